// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * The level of a lake over 98 years (data set LakeHuron of R 4.2.2, package datasets): readings
 * that follow one another. R's {@code lm} gives -2.420111 feet a century, and with white errors U
 * 0.81; its {@code arima(x, order = c(1, 0, 0), xreg = t)} finds r1 0.7835 and a standard error of
 * 1.05 feet a century, U 2.1.
 */
class LakeHuronTest {
  private static final double SLOPE = -0.02420111;
  private static final double U_WITH_AR1 = 2 * 0.0105;

  private static SlowDrift drift() throws IOException {
    try (BufferedReader lines =
        new BufferedReader(
            new InputStreamReader(
                LakeHuronTest.class.getResourceAsStream("/noise/LakeHuron.csv"),
                StandardCharsets.UTF_8))) {
      List<String> rows = lines.lines().filter(l -> l.matches("\\d.*")).toList();
      double[] years = rows.stream().mapToDouble(r -> number(r, 0)).toArray();
      double[] feet = rows.stream().mapToDouble(r -> number(r, 1)).toArray();
      assertEquals(98, rows.size());
      return SlowDrift.of(i -> years[i], feet);
    }
  }

  private static double number(String row, int column) {
    return Double.parseDouble(row.split(",")[column]);
  }

  @Test
  void theSlopeIsThatOfLeastSquaresButForOneYearThatIsClipped() throws IOException {
    assertEquals(SLOPE, drift().slope(), 1e-4);
  }

  /** 98 values leave a random walk open, with a weight of 0.3 and U 0.166 feet a year. */
  @Test
  void theIntervalIsNoNarrowerThanThatOfAnAutoregression() throws IOException {
    double u = drift().interval(Optional.empty(), 3.156e7, 0.9545).expanded().orElseThrow();
    assertTrue(u > U_WITH_AR1 && u < 0.166, () -> "U is " + u);
  }
}
