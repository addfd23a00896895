// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.function.Predicate;
import millrace.evidence.part.PartQuantity;

/** What a person with perfect instruments finds of the parts of a simulated unit. */
public record TruePartValues(SimulatedUnit unit) {

  public double of(PartQuantity quantity, String of, double degC, double terminalV) {
    double dT = degC - SimulatedUnitSpec.REFERENCE_DEGC;
    return switch (quantity) {
      case VOLTAGE -> voltage(of, dT);
      case RESISTANCE -> ohm(of, dT);
      case INPUT_OFFSET -> amplified(of).offsetV() + dT * amplified(of).driftVPerK();
      case INPUT_CURRENT -> -amplified(of).takenA();
      case CURRENT -> unit.currentA(of, terminalV, degC, unit.range(of).designSupplyV());
      case BASE_SHARE -> throw new IllegalArgumentException("no bipolar device in these units");
    };
  }

  private TrueRange amplified(String amplifier) {
    return range(r -> r.amplifier().name().equals(amplifier));
  }

  private TrueRange range(Predicate<SimulatedUnitSpec.Range> which) {
    return unit.range(unit.spec().ranges().stream().filter(which).findFirst().orElseThrow().name());
  }

  private double voltage(String of, double dT) {
    for (SimulatedUnitSpec.Range r : unit.spec().ranges()) {
      TrueRange t = unit.range(r.name());
      if (r.reference().name().equals(of)) {
        return t.setV() * (1 + t.referenceError() + t.referenceTempcoPerK() * dT);
      }
      if (r.resistor().name().equals(of)) {
        double set = t.setV() * (1 + t.referenceError() + t.referenceTempcoPerK() * dT);
        return set * t.gain() / (1 + t.gain()) + t.offsetV() + t.driftVPerK() * dT;
      }
      if (r.supply().name().equals(of)) {
        return t.designSupplyV() - t.lostSupplyV();
      }
      if (r.drops().stream().anyMatch(d -> d.name().equals(of))) {
        return t.dropV() + dT * t.dropVPerK();
      }
    }
    throw new IllegalArgumentException("no voltage of " + of);
  }

  private double ohm(String of, double dT) {
    for (SimulatedUnitSpec.Range r : unit.spec().ranges()) {
      TrueRange t = unit.range(r.name());
      if (r.resistor().name().equals(of)) {
        return t.resistorOhm() * (1 + t.resistorTempcoPerK() * dT);
      }
      if (r.leakage().name().equals(of)) {
        return 1 / (t.leakS() * Math.pow(2, dT / t.leakDoublesK()));
      }
    }
    throw new IllegalArgumentException("no resistance of " + of);
  }
}
