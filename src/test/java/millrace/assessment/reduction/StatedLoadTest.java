// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.Allowed;
import millrace.bench.LoadBox;
import millrace.bench.RoleFacts;
import millrace.calibration.Accuracy;
import org.junit.jupiter.api.Test;

/** Resistances in parallel and JCGM 100:2008, 4.3.7 (limits over root 3), by hand. */
class StatedLoadTest {
  private static RoleFacts load(LoadBox box, Optional<Double> k) {
    Accuracy none = Accuracy.NONE;
    Accuracy stated =
        new Accuracy(
            Optional.empty(),
            1e-3,
            0,
            0,
            k,
            none.transfer(),
            none.tempcoPerK(),
            none.bandDegC(),
            none.burdenOhm(),
            none.burdenUncertainty(),
            none.inputOhm(),
            none.inputUncertainty());
    return new RoleFacts(List.of(stated), List.of(), box, Allowed.NONE);
  }

  private static Estimate at(RoleFacts facts, double ohm, double labDegC) {
    return StatedLoad.ohm(facts, ohm, OptionalDouble.of(labDegC));
  }

  @Test
  void limitsAreRectangularUnlessTheyStateACoverageFactor() {
    assertEquals(
        1 / Math.sqrt(3),
        at(load(LoadBox.NONE, Optional.empty()), 1000, 23).standardUncertainty(),
        1e-12);
    assertEquals(
        0.5, at(load(LoadBox.NONE, Optional.of(2.0)), 1000, 23).standardUncertainty(), 1e-12);
  }

  @Test
  void aCalibratedValueCountsAtTheTemperatureOfTheLab() {
    LoadBox.Value line = new LoadBox.Value(1000, 1000.12, 0.01, 5e-6, 23);
    RoleFacts facts =
        load(new LoadBox(List.of(line), List.of(), 0.02, Optional.empty()), Optional.empty());

    Estimate warm = at(facts, 1000, 33);

    assertEquals(1000.12 * (1 + 5e-6 * 10) + 0.02, warm.value(), 1e-9);
    assertEquals(0.01, warm.standardUncertainty(), 1e-12);
    assertEquals(
        1000.14, StatedLoad.ohm(facts, 1000, OptionalDouble.empty()).value(), 1e-9, "no lab");
  }

  @Test
  void leakageAcrossTheBoxMayTakeItDownByAsMuchAsItDoesInParallel() {
    double leak = 1e9;
    LoadBox.Value line = new LoadBox.Value(1e6, 1e6, 0, 0, 23);
    RoleFacts facts =
        load(new LoadBox(List.of(line), List.of(), 0, Optional.of(leak)), Optional.empty());

    double most = 1e6 - 1e6 * leak / (1e6 + leak);

    assertEquals(most / Math.sqrt(3), at(facts, 1e6, 23).standardUncertainty(), 1e-6 * most);
  }
}
