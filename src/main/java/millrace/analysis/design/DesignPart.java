// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.List;
import java.util.Optional;

/**
 * A part by its name, with its maker's tolerances. The same name in two ranges means the same part.
 * Ratios are plain numbers, limits are half-widths.
 */
public sealed interface DesignPart {

  /**
   * What the part is called.
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
   * @param curvaturePerK2 largest quadratic temperature coefficient, 1/K2, 0 or more; empty if not
   *     stated
   */
  record Reference(
      String name, double tolerance, double tempcoPerK, Optional<Double> curvaturePerK2)
      implements DesignPart {}

  /**
   * A range resistor.
   *
   * @param name its name
   * @param valueOhm nominal resistance, ohm, above 0
   * @param tolerance largest relative deviation, 0 or more
   * @param tempcoPerK largest relative change per kelvin, 1/K, 0 or more
   * @param curvaturePerK2 largest quadratic temperature coefficient, 1/K2, 0 or more; empty if not
   *     stated
   * @param network the substrate it shares; empty if alone
   */
  record Resistor(
      String name,
      double valueOhm,
      double tolerance,
      double tempcoPerK,
      Optional<Double> curvaturePerK2,
      Optional<Network> network)
      implements DesignPart {
    /** Checks the value. */
    public Resistor {
      if (!(valueOhm > 0)) {
        throw new IllegalArgumentException(
            "resistor '%s' is %s ohm; expected above 0".formatted(name, valueOhm));
      }
    }
  }

  /**
   * A first stage between the reference and the set voltage: the reference over a resistor sets a
   * current, whose drop across a top resistor a second amplifier copies to the range resistor.
   *
   * @param name its name
   * @param referenceV the voltage of the reference, V, above 0
   * @param resistor what the reference lies across
   * @param top where the current drops the set voltage, up to the tap; at least one
   * @param amplifier what holds the reference across the resistor; empty for an ideal one
   */
  record FirstStage(
      String name,
      double referenceV,
      Resistor resistor,
      List<Resistor> top,
      Optional<Amplifier> amplifier)
      implements DesignPart {
    /** Copies the list, checks the values. */
    public FirstStage {
      top = List.copyOf(top);
      if (!(referenceV > 0) || top.isEmpty()) {
        throw new IllegalArgumentException(
            "a first stage of %s V with %s top resistors; expected above 0 V and one or more"
                .formatted(referenceV, top.size()));
      }
    }
  }

  /**
   * A substrate that resistors share.
   *
   * @param name its name
   * @param trackingTolerance largest relative deviation of a ratio within it, 0 or more
   * @param trackingTempcoPerK largest relative change of such a ratio per kelvin, 1/K, 0 or more
   */
  record Network(String name, double trackingTolerance, double trackingTempcoPerK)
      implements DesignPart {}

  /**
   * An amplifier that holds the set voltage across the resistor.
   *
   * @param name its name
   * @param offsetV largest input offset, V, 0 or more
   * @param driftVPerK largest change of the offset, V/K, 0 or more
   * @param biasA largest input current, A, 0 or more
   * @param gain open-loop voltage gain, a plain ratio, above 0
   */
  record Amplifier(String name, double offsetV, double driftVPerK, double biasA, double gain)
      implements DesignPart {
    /** Checks the gain. */
    public Amplifier {
      if (!(gain > 0)) {
        throw new IllegalArgumentException(
            "amplifier '%s' has a gain of %s; expected above 0".formatted(name, gain));
      }
    }
  }

  /**
   * A pass device.
   *
   * @param name its name
   * @param beta current gain of a bipolar one, above 0; empty for an insulated gate
   * @param gateLeakageA largest leakage of an insulated gate, A, 0 or more
   */
  record PassDevice(String name, Optional<Double> beta, double gateLeakageA) implements DesignPart {

    /**
     * The share of the current that goes into the base: 1/(beta + 1).
     *
     * @return a ratio; 0 for an insulated gate
     */
    public double loss() {
      return beta.map(b -> 1 / (b + 1)).orElse(0.0);
    }
  }

  /**
   * Something in series with the output: it drops voltage and takes no current.
   *
   * @param name its name
   * @param voltageV its drop, V, 0 or more
   */
  record SeriesDrop(String name, double voltageV) implements DesignPart {}

  /**
   * A leakage from the output to ground.
   *
   * @param name its name
   * @param resistanceOhm at the reference temperature, ohm, above 0
   * @param doublesEveryK by how much its conductance doubles, K, above 0
   */
  record Leakage(String name, double resistanceOhm, double doublesEveryK) implements DesignPart {
    /** Checks the values. */
    public Leakage {
      if (!(resistanceOhm > 0 && doublesEveryK > 0)) {
        throw new IllegalArgumentException(
            "leakage '%s' is %s ohm and doubles every %s K; expected both above 0"
                .formatted(name, resistanceOhm, doublesEveryK));
      }
    }
  }

  /**
   * What feeds the range.
   *
   * @param name its name
   * @param voltageV its voltage, V, above 0
   */
  record Supply(String name, double voltageV) implements DesignPart {}
}
