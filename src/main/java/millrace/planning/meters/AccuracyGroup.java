// SPDX-License-Identifier: Apache-2.0
package millrace.planning.meters;

import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * A part of the accuracy statement of an instrument, which is bought or borrowed as one.
 *
 * @param role the role of the instrument
 * @param fullScale the range of the statement, base units; empty for all
 * @param kind the part of the statement
 * @param shape the statement whose proportions stay
 */
public record AccuracyGroup(
    RoleName role, Optional<Double> fullScale, Kind kind, AccuracyStatement shape) {
  /** The part of a statement. */
  public enum Kind {
    /** Of reading, of full scale, absolute: over the interval for which the statement holds. */
    ACCURACY("accuracy"),
    /** Short-term linearity within a range. */
    LINEARITY("linearity");

    private final String text;

    Kind(String text) {
      this.text = text;
    }

    /**
     * The part in words.
     *
     * @return the word
     */
    public String text() {
      return text;
    }
  }

  /**
   * The quantity that the instrument reads or sets.
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
   * The role in words.
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

  /**
   * An instrument worse than 1 % is no meter, one worse than 3 K no thermometer (common practice,
   * no source).
   */
  private static final double WORST_RATIO = 0.01;

  private static final double WORST_K = 3;

  /** The largest factor on the statement that the search tries. */
  double most() {
    if (kind == Kind.LINEARITY) {
      return WORST_RATIO / shape.transfer().orElse(WORST_RATIO);
    }
    double ratio = shape.ofReading() + shape.ofFullScale();
    return ratio > 0 ? WORST_RATIO / ratio : WORST_K / shape.absolute();
  }

  /** Whether the statement belongs to a role. */
  boolean isOf(RoleName other, AccuracyStatement statement) {
    return role == other && fullScale.equals(statement.fullScale());
  }
}
