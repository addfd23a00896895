// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.reduction;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.uncertainty.Estimate;
import millrace.bench.InstrumentLimits;
import millrace.bench.LoadProperties;
import millrace.bench.RoleFacts;
import millrace.calibration.AccuracyStatement;
import org.junit.jupiter.api.Test;

/** Resistances in parallel and JCGM 100:2008, 4.3.7 (limits over root 3), by hand. */
class StatedLoadResistanceTest {
  private static RoleFacts load(LoadProperties box, Optional<Double> k) {
    AccuracyStatement none = AccuracyStatement.NONE;
    AccuracyStatement stated =
        new AccuracyStatement(
            Optional.empty(),
            1e-3,
            0,
            0,
            k,
            none.transfer(),
            none.noise(),
            none.tempcoPerK(),
            none.bandDegC(),
            none.burdenOhm(),
            none.burdenUncertainty(),
            none.inputOhm(),
            none.inputUncertainty());
    return new RoleFacts(List.of(stated), List.of(), box, InstrumentLimits.NONE);
  }

  private static Estimate at(RoleFacts facts, double ohm, double labDegC) {
    return StatedLoadResistance.ohm(facts, ohm, OptionalDouble.of(labDegC));
  }

  @Test
  void limitsAreRectangularUnlessTheyStateACoverageFactor() {
    assertEquals(
        1 / Math.sqrt(3),
        at(load(LoadProperties.NONE, Optional.empty()), 1000, 23).standardUncertainty(),
        1e-12);
    assertEquals(
        0.5,
        at(load(LoadProperties.NONE, Optional.of(2.0)), 1000, 23).standardUncertainty(),
        1e-12);
  }

  @Test
  void aCalibratedValueCountsAtTheTemperatureOfTheLab() {
    LoadProperties.Value line = new LoadProperties.Value(1000, 1000.12, 0.01, 5e-6, 23);
    RoleFacts facts =
        load(
            new LoadProperties(List.of(line), List.of(), 0.02, Optional.empty()), Optional.empty());

    Estimate warm = at(facts, 1000, 33);

    assertEquals(1000.12 * (1 + 5e-6 * 10) + 0.02, warm.value(), 1e-9);
    assertEquals(0.01, warm.standardUncertainty(), 1e-12);
    assertEquals(
        1000.14,
        StatedLoadResistance.ohm(facts, 1000, OptionalDouble.empty()).value(),
        1e-9,
        "no lab");
  }

  @Test
  void leakageAcrossTheBoxMayTakeItDownByAsMuchAsItDoesInParallel() {
    double leak = 1e9;
    LoadProperties.Value line = new LoadProperties.Value(1e6, 1e6, 0, 0, 23);
    RoleFacts facts =
        load(new LoadProperties(List.of(line), List.of(), 0, Optional.of(leak)), Optional.empty());

    double most = 1e6 - 1e6 * leak / (1e6 + leak);

    assertEquals(most / Math.sqrt(3), at(facts, 1e6, 23).standardUncertainty(), 1e-6 * most);
  }
}
