// SPDX-License-Identifier: Apache-2.0
package millrace.planning.night;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.IntStream;
import millrace.evidence.ResultQuantity;
import millrace.night.RunInputs;
import millrace.sequence.Plan;
import org.apache.commons.math3.stat.correlation.PearsonsCorrelation;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What is written is read again: the plan of the file has what the design has. */
class NightSequenceTest {
  private static final NightScope SCOPE =
      new NightScope(
          "a night",
          List.of("1mA"),
          List.of(),
          Set.of(ResultQuantity.TEMPCO, ResultQuantity.LOAD_REGULATION),
          23,
          OptionalDouble.of(50),
          OptionalDouble.of(5),
          Optional.of(28.0),
          false,
          List.of(),
          2);

  private static final int LOADS = 18;
  private static final int WAYS = 2;

  private static long count(Plan plan, String word, double degC) {
    return plan.points().stream()
        .filter(p -> p.task().word().equals(word))
        .filter(p -> p.conditions().temperatureDegC().equals(OptionalDouble.of(degC)))
        .count();
  }

  @ParameterizedTest
  @CsvSource({"0, 0, 24, 3, 1", "1, 0, 12, 3, 1", "2, 1, 3, 3, 0", "2, 2, 3, 1, 0"})
  void aPlanHasTheLoadsAndKneesOfItsDesign(
      int ends, int knees, int away, int kneesThere, int kneesAway) throws IOException {
    NightDesign design =
        new NightDesign(
            SCOPE,
            Map.of(
                new NightAmount(NightLever.ENDS, Optional.of("1mA")),
                ends,
                new NightAmount(NightLever.KNEES, Optional.empty()),
                knees));
    Path sheet = Path.of("examples/fx-3.datasheet.yaml");
    Plan plan =
        RunInputs.of(
                "night.yaml", NightSequence.of(design), sheet.toString(), Files.readString(sheet))
            .plan(List.of());
    assertEquals(design.temperatures(), plan.stays());
    assertEquals(3 * WAYS * LOADS, count(plan, "", 23));
    assertEquals(away, count(plan, "", 50));
    assertEquals(kneesThere, count(plan, "knee", 23));
    assertEquals(kneesAway, count(plan, "knee", 5));
  }

  /** A drift over time has nothing to do with the loads of one pass. */
  @Test
  void theOrderOfOnePassSeparatesADriftFromASlope() {
    for (int plateau : new int[] {5, 7, 9, 11, 13, 17}) {
      List<Integer> order = NightLoads.balanced(new NightLoads(true).all(plateau));
      double[] loads = order.stream().mapToDouble(p -> p).toArray();
      double[] time = IntStream.range(0, loads.length).asDoubleStream().toArray();
      assertEquals(0, new PearsonsCorrelation().correlation(time, loads), 0.25, order.toString());
      assertEquals(new NightLoads(true).all(plateau), order.stream().sorted().toList());
    }
  }
}
