// SPDX-License-Identifier: Apache-2.0
package millrace.datasheet;

import java.util.Optional;

/** A part of ranges, with its maker's specification. Ratios are plain numbers. */
public sealed interface DatasheetPart {

  /**
   * A voltage reference.
   *
   * @param valueV nominal voltage, V, above 0
   * @param tolerance largest relative deviation, 0 or more
   * @param tempcoPerK largest relative change per kelvin, 1/K, 0 or more
   * @param curvaturePerK2 largest quadratic temperature coefficient, 1/K2, 0 or more; empty if not
   *     stated
   */
  record Reference(
      double valueV, double tolerance, double tempcoPerK, Optional<Double> curvaturePerK2)
      implements DatasheetPart {
    /** Checks the ranges. */
    public Reference {
      curvaturePerK2.ifPresent(b -> DatasheetValueChecks.from0("curvature", b));
      DatasheetValueChecks.above0("reference voltage", valueV);
      DatasheetValueChecks.from0("tolerance", tolerance);
      DatasheetValueChecks.from0("tempco", tempcoPerK);
    }
  }

  /**
   * A resistor, alone or in a network that shares a substrate.
   *
   * @param valueOhm nominal resistance, ohm, above 0
   * @param tolerance largest relative deviation
   * @param tempcoPerK largest relative change per kelvin, 1/K
   * @param curvaturePerK2 largest quadratic temperature coefficient, 1/K2; empty if not stated
   * @param network its shared substrate; empty if alone
   * @param trackingTolerance largest relative deviation of a ratio within the network
   * @param trackingTempcoPerK largest change of such a ratio per kelvin, 1/K
   */
  record Resistor(
      double valueOhm,
      double tolerance,
      double tempcoPerK,
      Optional<Double> curvaturePerK2,
      Optional<String> network,
      Optional<Double> trackingTolerance,
      Optional<Double> trackingTempcoPerK)
      implements DatasheetPart {
    /** Checks the ranges. */
    public Resistor {
      DatasheetValueChecks.above0("resistance", valueOhm);
      DatasheetValueChecks.from0("tolerance", tolerance);
      DatasheetValueChecks.from0("tempco", tempcoPerK);
      curvaturePerK2.ifPresent(b -> DatasheetValueChecks.from0("curvature", b));
      if (network.isEmpty() && (trackingTolerance.isPresent() || trackingTempcoPerK.isPresent())) {
        throw new IllegalArgumentException(
            "a tracking figure without a network; expected 'network: NAME' beside it");
      }
    }
  }

  /**
   * An amplifier.
   *
   * @param offsetV largest input offset, V, 0 or more
   * @param driftVPerK largest offset drift, V/K, 0 or more
   * @param biasA largest input bias current, A, 0 or more
   * @param gain open-loop voltage gain, above 0
   */
  record Amplifier(double offsetV, double driftVPerK, double biasA, double gain)
      implements DatasheetPart {
    /** Checks the ranges. */
    public Amplifier {
      DatasheetValueChecks.from0("offset", offsetV);
      DatasheetValueChecks.from0("drift", driftVPerK);
      DatasheetValueChecks.from0("bias", biasA);
      DatasheetValueChecks.above0("gain", gain);
    }
  }

  /**
   * The pass device.
   *
   * @param beta current gain of a bipolar one, above 0; empty for an insulated gate
   * @param gateLeakageA leakage of an insulated gate, A, 0 or more; 0 for a bipolar one
   */
  record PassDevice(Optional<Double> beta, double gateLeakageA) implements DatasheetPart {
    /** Checks the ranges. */
    public PassDevice {
      beta.ifPresent(b -> DatasheetValueChecks.above0("beta", b));
      DatasheetValueChecks.from0("gate leakage", gateLeakageA);
    }

    /** The pass device as in the file, each type with its own keys. */
    static PassDevice of(boolean bipolar, Optional<Double> beta, Optional<Double> gateLeakageA) {
      if (bipolar != beta.isPresent()) {
        throw new IllegalArgumentException(
            bipolar
                ? "a bipolar pass device without beta; expected 'beta: NUMBER'"
                : "an insulated gate has no beta; expected it only for 'type: bipolar'");
      }
      if (bipolar && gateLeakageA.isPresent()) {
        throw new IllegalArgumentException(
            "a bipolar pass device has no gate; expected 'gate leakage' only for 'type: insulated"
                + " gate'");
      }
      return new PassDevice(beta, gateLeakageA.orElse(0.0));
    }
  }

  /**
   * Something in series with the output that drops voltage and takes no current.
   *
   * @param voltageV its drop, V, 0 or more
   */
  record SeriesDrop(double voltageV) implements DatasheetPart {
    /** Checks the range. */
    public SeriesDrop {
      DatasheetValueChecks.from0("voltage", voltageV);
    }
  }

  /**
   * A leakage from the output to ground.
   *
   * @param resistanceOhm its resistance at the reference temperature, ohm, above 0
   * @param doublesEveryK temperature rise that doubles its conductance, K, above 0
   */
  record Leakage(double resistanceOhm, double doublesEveryK) implements DatasheetPart {
    /** Checks the ranges. */
    public Leakage {
      DatasheetValueChecks.above0("resistance", resistanceOhm);
      DatasheetValueChecks.above0("doubles every", doublesEveryK);
    }
  }

  /**
   * A supply.
   *
   * @param voltageV its voltage, V, above 0
   */
  record Supply(double voltageV) implements DatasheetPart {
    /** Checks the range. */
    public Supply {
      DatasheetValueChecks.above0("voltage", voltageV);
    }
  }
}
