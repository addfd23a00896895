// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import millrace.assessment.comparison.Batch;
import millrace.assessment.comparison.MeasuredSpread;
import millrace.assessment.comparison.RunComparer;
import millrace.assessment.comparison.UnitFactors;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.logbook.RunFilter;
import millrace.planning.LimitForecast;
import org.apache.commons.math3.stat.StatUtils;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How boards spread before the next one is measured. */
class BoardSpreadTest {
  private static final Datasheet SHEET =
      DatasheetFile.read(
          "bx5.yaml",
          "datasheet: BX5 excitation source\nranges:\n  1mA: {nominal: 1 mA}\n"
              .getBytes(StandardCharsets.UTF_8));

  /** The noise of a result of {@link Batch}, ppm. */
  private static final double NOISE = 2;

  @TempDir Path folder;

  /** The standard deviation of the drawn boards after so many, ppm, that spread by so much. */
  private double drawn(int boards, double spread) {
    SplittableRandom random = new SplittableRandom(3);
    try (Batch batch = new Batch(folder)) {
      IntStream.range(0, boards)
          .mapToDouble(i -> Math.hypot(spread, NOISE) * random.nextGaussian())
          .forEach(
              ppm ->
                  batch.run(
                      Batch.Order.of("BX5-" + random.nextInt(1 << 30)), List.of(Batch.error(ppm))));
      List<MeasuredSpread> measured =
          MeasuredSpread.of(
              batch.book(),
              RunComparer.of(
                      batch.book(), batch.book().runs(RunFilter.ALL), false, UnitFactors.NONE)
                  .distributions());
      LimitForecast limit = BoardLimits.forecast(Batch.error(0));
      double[] values =
          BoardSpread.of(SHEET, measured, List.of(List.of(limit))).of(limit).orElseThrow();
      return Math.sqrt(StatUtils.variance(values));
    }
  }

  /**
   * Variances of independent errors add (JCGM 100:2008, 5.1.2): values that scatter by the root of
   * 3^2 + 2^2 are those of boards that spread by 3 where the noise is 2. The variance of 400 values
   * is known to 7 %, which is 1 of 9. The 15 ppm that the meter may be wrong on every board are in
   * no scatter.
   */
  @Test
  void theNoiseOfTheMeasurementIsNoSpreadOfTheBoards() {
    assertEquals(9, Math.pow(drawn(400, 3), 2), 2.5);
  }

  /** Of boards that are all alike the mean alone is unknown, to its standard deviation. */
  @Test
  void boardsThatAreAlikeDoNotSpread() {
    double spread = drawn(100, 0);
    assertTrue(spread >= NOISE / Math.sqrt(100) * 0.8, spread + " ppm");
    assertTrue(spread < NOISE / 2, spread + " ppm");
  }
}
