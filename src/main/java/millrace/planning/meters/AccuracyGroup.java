// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Part of what is stated of an instrument that is bought or borrowed as one.
 *
 * @param role what the instrument does
 * @param fullScale the range it is for, base units; empty for all
 * @param kind which part of the statement
 * @param shape the statement whose proportions are kept
 */
public record AccuracyGroup(
    RoleName role, Optional<Double> fullScale, Kind kind, AccuracyStatement shape) {
  /** Which part. */
  public enum Kind {
    /** Of reading, of full scale, absolute: over the interval that the statement holds for. */
    ACCURACY("accuracy"),
    /** Short-term linearity within a range. */
    LINEARITY("linearity");

    private final String text;

    Kind(String text) {
      this.text = text;
    }

    /**
     * In words.
     *
     * @return the word
     */
    public String text() {
      return text;
    }
  }

  /**
   * What the instrument reads or sets.
   *
   * @return the kind of its full scale and of its absolute part
   */
  public Dimension dimension() {
    return switch (role) {
      case CURRENT_METER, SUPPLY -> Dimension.CURRENT;
      case VOLTMETER, SHUNT_VOLTMETER -> Dimension.VOLTAGE;
      case LOAD -> Dimension.RESISTANCE;
      default -> Dimension.TEMPERATURE_DIFFERENCE;
    };
  }

  /**
   * What the instrument does, in words.
   *
   * @return such as {@code current meter}
   */
  public String roleInWords() {
    return role.text();
  }

  /**
   * Role, range and part in words.
   *
   * @return such as {@code current meter 2 mA, linearity}
   */
  public String inWords() {
    return role.text()
        + fullScale.map(f -> " " + QuantityText.print(f, dimension())).orElse("")
        + (kind == Kind.LINEARITY ? ", linearity" : "");
  }

  /** Worse than 1 % is no meter, worse than 3 K no thermometer (common practice, no source). */
  private static final double WORST_RATIO = 0.01;

  private static final double WORST_K = 3;

  /** The largest factor on the statement that is looked at. */
  double most() {
    if (kind == Kind.LINEARITY) {
      return WORST_RATIO / shape.transfer().orElse(WORST_RATIO);
    }
    double ratio = shape.ofReading() + shape.ofFullScale();
    return ratio > 0 ? WORST_RATIO / ratio : WORST_K / shape.absolute();
  }

  /** Whether a statement of a role is meant. */
  boolean isOf(RoleName other, AccuracyStatement statement) {
    return role == other && fullScale.equals(statement.fullScale());
  }
}
