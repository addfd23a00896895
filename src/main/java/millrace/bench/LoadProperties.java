// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * What the bench file states of a load beyond its accuracy.
 *
 * @param values calibrated values, by rising nominal value; may be empty
 * @param limits what each decade bears, by rising decade; may be empty
 * @param residualOhm what remains at a setting of 0, ohm, 0 or more; part of every setting
 * @param strayOhm leakage across the box at its worst, ohm, above 0; empty: not known
 */
public record LoadProperties(
    List<Value> values, List<Limit> limits, double residualOhm, Optional<Double> strayOhm) {
  private static final double SAME = 1e-6;

  /** Nothing known. */
  public static final LoadProperties NONE =
      new LoadProperties(List.of(), List.of(), 0, Optional.empty());

  /** Sorts and copies the lists, checks what the components promise. */
  public LoadProperties {
    values = values.stream().sorted(Comparator.comparingDouble(Value::nominalOhm)).toList();
    limits = limits.stream().sorted(Comparator.comparingDouble(Limit::decadeOhm)).toList();
    if (!(residualOhm >= 0)) {
      throw new IllegalArgumentException(
          "a residual resistance of " + residualOhm + " ohm; expected 0 or more");
    }
    if (strayOhm.isPresent() && !(strayOhm.get() > 0)) {
      throw new IllegalArgumentException(
          "a leakage of " + strayOhm.get() + " ohm; expected above 0");
    }
  }

  /**
   * One calibrated value.
   *
   * @param nominalOhm what the load is set to, ohm, 0 or more
   * @param valueOhm what it then is, without the residual resistance, ohm
   * @param standardUncertaintyOhm of that, ohm, 0 or more
   * @param tempcoPerK of it, 1/K
   * @param calibratedAtDegC at which temperature it was calibrated, degC
   */
  public record Value(
      double nominalOhm,
      double valueOhm,
      double standardUncertaintyOhm,
      double tempcoPerK,
      double calibratedAtDegC) {
    /** Checks what the components promise. */
    public Value {
      if (!(nominalOhm >= 0) || !(standardUncertaintyOhm >= 0)) {
        throw new IllegalArgumentException(
            "a load value of %s ohm with u %s ohm; expected 0 or more"
                .formatted(nominalOhm, standardUncertaintyOhm));
      }
    }

    /**
     * The value at a temperature.
     *
     * @param temperatureDegC of the load, degC
     * @return ohm
     */
    public double atOhm(double temperatureDegC) {
      return valueOhm * (1 + tempcoPerK * (temperatureDegC - calibratedAtDegC));
    }
  }

  /**
   * What a decade bears: from its value up to that of the next.
   *
   * @param decadeOhm where the decade begins, ohm, above 0
   * @param mostV largest voltage, V, above 0
   * @param mostW largest power, W, above 0
   */
  public record Limit(double decadeOhm, double mostV, double mostW) {
    /** Checks that all are above 0. */
    public Limit {
      if (!(decadeOhm > 0) || !(mostV > 0) || !(mostW > 0)) {
        throw new IllegalArgumentException(
            "a decade of %s ohm that bears %s V and %s W; expected all above 0"
                .formatted(decadeOhm, mostV, mostW));
      }
    }
  }

  /**
   * The calibrated value of a setting.
   *
   * @param nominalOhm the setting, ohm
   * @return its line of the certificate; empty if it has none
   */
  public Optional<Value> calibrated(double nominalOhm) {
    return values.stream()
        .filter(v -> Math.abs(v.nominalOhm() - nominalOhm) <= SAME * nominalOhm)
        .findFirst();
  }

  /**
   * The largest reduction of a setting by leakage across the box: R^2/(R + R_leak).
   *
   * @param ohm the setting, ohm, 0 or more
   * @return ohm, 0 or more; 0 if no leakage is stated
   */
  public double shuntedOhm(double ohm) {
    return strayOhm.map(s -> ohm * ohm / (ohm + s)).orElse(0.0);
  }

  /**
   * What a setting bears.
   *
   * @param nominalOhm the setting, ohm
   * @return the limit of its decade; empty if none is stated
   */
  public Optional<Limit> bears(double nominalOhm) {
    return limits.stream()
        .filter(l -> l.decadeOhm() <= nominalOhm * (1 + SAME))
        .reduce((lower, higher) -> higher);
  }

  /**
   * Tells whether a current is too high for a setting.
   *
   * @param nominalOhm the setting, ohm
   * @param currentA the current, A
   * @return true if voltage or power exceed what the decade bears; false if nothing is stated
   */
  public boolean overloaded(double nominalOhm, double currentA) {
    double volts = Math.abs(currentA) * nominalOhm;
    return bears(nominalOhm)
        .filter(l -> volts > l.mostV() || volts * Math.abs(currentA) > l.mostW())
        .isPresent();
  }
}
