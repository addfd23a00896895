// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.util.Optional;

/**
 * A part of a simulated unit, by its name, with the spread of good ones. A drawn part never exceeds
 * the values called largest.
 */
public sealed interface SimulatedPartSpec {
  /**
   * The name of the part; ranges that name the same part share it.
   *
   * @return its name
   */
  String name();

  /**
   * A voltage reference.
   *
   * @param name its name
   * @param tolerance largest relative deviation, 0 or more
   * @param tempcoPerK largest relative change per kelvin, 1/K, 0 or more
   */
  record Reference(String name, double tolerance, double tempcoPerK) implements SimulatedPartSpec {
    /** Checks the ranges. */
    public Reference {
      SimValueChecks.from0("tolerance", tolerance);
      SimValueChecks.from0("tempco per K", tempcoPerK);
    }
  }

  /**
   * A resistor, alone or in a network.
   *
   * @param name its name
   * @param ohm nominal value, ohm, above 0
   * @param tolerance largest relative deviation, 0 or more
   * @param tempcoPerK largest relative change per kelvin, 1/K, 0 or more
   * @param network the substrate that it shares; empty if alone
   */
  record Resistor(
      String name, double ohm, double tolerance, double tempcoPerK, Optional<Network> network)
      implements SimulatedPartSpec {
    /** Checks the ranges. */
    public Resistor {
      SimValueChecks.above0("resistance in ohm", ohm);
      SimValueChecks.from0("tolerance", tolerance);
      SimValueChecks.from0("tempco per K", tempcoPerK);
    }
  }

  /**
   * A substrate that resistors share; their ratios are more accurate than their values.
   *
   * @param name its name
   * @param trackingTolerance largest relative deviation of a ratio, 0 or more
   * @param trackingTempcoPerK largest relative change of a ratio per kelvin, 1/K, 0 or more
   */
  record Network(String name, double trackingTolerance, double trackingTempcoPerK) {
    /** Checks the ranges. */
    public Network {
      SimValueChecks.from0("tracking tolerance", trackingTolerance);
      SimValueChecks.from0("tracking tempco per K", trackingTempcoPerK);
    }
  }

  /**
   * An amplifier.
   *
   * @param name its name
   * @param offsetV largest offset, V, 0 or more
   * @param driftVPerK largest drift of it, V/K, 0 or more
   * @param biasA largest bias current at 23 degC, doubling every 10 K, A, 0 or more
   * @param gain least open-loop gain, above 0
   */
  record Amplifier(String name, double offsetV, double driftVPerK, double biasA, double gain)
      implements SimulatedPartSpec {
    /** Checks the ranges. */
    public Amplifier {
      SimValueChecks.from0("offset in V", offsetV);
      SimValueChecks.from0("drift in V/K", driftVPerK);
      SimValueChecks.from0("bias in A", biasA);
      SimValueChecks.above0("gain", gain);
    }
  }

  /**
   * A pass device.
   *
   * @param name its name
   * @param beta current gain of a bipolar one, above 0; empty for an insulated gate
   * @param gateLeakageA largest leakage of an insulated gate at 23 degC, doubling every 10 K, A
   * @param earlyV its own output resistance times its current, V, above 0
   */
  record PassDevice(String name, Optional<Double> beta, double gateLeakageA, double earlyV)
      implements SimulatedPartSpec {
    /** Checks the ranges. */
    public PassDevice {
      beta.ifPresent(b -> SimValueChecks.above0("beta", b));
      SimValueChecks.from0("gate leakage in A", gateLeakageA);
      SimValueChecks.above0("early voltage in V", earlyV);
    }
  }

  /**
   * A junction in series: it drops voltage, 2 mV/K less when warmer, and takes no current.
   *
   * @param name its name
   * @param volts its drop at 23 degC, V, 0 or more
   */
  record Drop(String name, double volts) implements SimulatedPartSpec {
    /** Checks the range. */
    public Drop {
      SimValueChecks.from0("drop in V", volts);
    }
  }

  /**
   * A leakage from the output to ground.
   *
   * @param name its name
   * @param ohm least resistance at 23 degC, ohm, above 0
   * @param doublesK by how many kelvin its conductance doubles, K, above 0
   */
  record Leakage(String name, double ohm, double doublesK) implements SimulatedPartSpec {
    /** Checks the ranges. */
    public Leakage {
      SimValueChecks.above0("leakage resistance in ohm", ohm);
      SimValueChecks.above0("doubling of the leakage in K", doublesK);
    }
  }

  /**
   * The design supply of the range.
   *
   * @param name its name
   * @param volts its voltage, V, above 0
   * @param own whether the unit has it inside, so that no supply of the bench feeds it
   */
  record Supply(String name, double volts, boolean own) implements SimulatedPartSpec {
    /** Checks the range. */
    public Supply {
      SimValueChecks.above0("supply in V", volts);
    }
  }
}
