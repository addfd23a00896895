// SPDX-License-Identifier: Apache-2.0
package millrace.report.words;

import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.Limit;
import millrace.evidence.Result;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;

/**
 * Results in figures. Value and expanded uncertainty are rounded to two significant digits of the
 * uncertainty (JCGM 100:2008, 7.2.6); units that take an engineering prefix get one. Units are in
 * plain letters.
 */
public final class ResultFigures {
  private static final Map<String, Dimension> PREFIXED =
      Map.of(
          "A", Dimension.CURRENT,
          "V", Dimension.VOLTAGE,
          "S", Dimension.CONDUCTANCE,
          "ohm", Dimension.RESISTANCE,
          "1", Dimension.RATIO);
  private static final int DIGITS = 4;
  private static final int CERTAIN = 12;
  private static final double SO_GOOD_AS_INFINITE = 1e6;

  /** Factor that keeps a number just below a whole unit in that unit: 0.99998 mA, not 999.98 uA. */
  private static final double NEARLY = 1.1;

  private ResultFigures() {}

  /** The unit for a number of this size. */
  public static QuantityText.Scale scale(double number, String unit) {
    Dimension dimension = PREFIXED.get(unit);
    return dimension == null
        ? new QuantityText.Scale(unit, 1)
        : QuantityText.scaleFor(NEARLY * number, dimension);
  }

  /** Value and U, or the bound; empty if it was not computed. */
  public static Optional<String> stated(Result result) {
    return result.outcome().accept(new Stating(result.quantity().unit()));
  }

  /** Value and U, or the bound, or the reason for a missing value. */
  public static String inWords(Result result) {
    return stated(result).orElseGet(() -> "not computed: " + missing(result).orElse("no reason"));
  }

  /** The reason for a missing value. */
  public static Optional<String> missing(Result result) {
    return result.outcome() instanceof ComputationOutcome.Missing m
        ? Optional.of(m.reason())
        : Optional.empty();
  }

  /** The uncertainty; empty if nothing is known of the error. */
  public static Optional<ComputationOutcome.Uncertainty> uncertainty(Result result) {
    return result.outcome() instanceof ComputationOutcome.Value v
        ? v.uncertainty()
        : Optional.empty();
  }

  /** Text for each kind of outcome. */
  private record Stating(String unit) implements ComputationOutcome.Visitor<Optional<String>> {
    @Override
    public Optional<String> value(ComputationOutcome.Value v) {
      double u = v.uncertainty().map(ComputationOutcome.Uncertainty::expanded).orElse(0.0);
      return Optional.of(pair(v.value(), u, unit));
    }

    @Override
    public Optional<String> bound(ComputationOutcome.Bound b) {
      return Optional.of(b.side().text() + " " + number(b.value(), unit));
    }

    @Override
    public Optional<String> missing(ComputationOutcome.Missing m) {
      return Optional.empty();
    }
  }

  /** A value with its expanded uncertainty, which is 0 if it was not evaluated. */
  public static String pair(double value, double expanded, String unit) {
    QuantityText.Scale scale = scale(Math.max(Math.abs(value), expanded), unit);
    if (expanded == 0) {
      return NumberText.significant(value / scale.size(), 2 * DIGITS)
          + " "
          + scale.symbol()
          + ", uncertainty not evaluated";
    }
    return QuantityText.withUncertainty(
        value / scale.size(), expanded / scale.size(), scale.symbol());
  }

  /** A number with its unit, and with the decimals of two digits of a smaller number. */
  public static String resolved(double value, double finer, String unit) {
    QuantityText.Scale scale = scale(Math.max(Math.abs(value), Math.abs(finer)), unit);
    int decimals = Math.max(0, NumberText.decimalsFor(finer / scale.size()));
    return (NumberText.fixed(value / scale.size(), decimals) + " " + scale.symbol()).strip();
  }

  /** A number with its unit and four digits. */
  public static String number(double value, String unit) {
    QuantityText.Scale scale = scale(value, unit);
    String count = NumberText.significant(value / scale.size(), DIGITS);
    return scale.symbol().isEmpty() ? count : count + " " + scale.symbol();
  }

  /** A standard uncertainty or a similar size, with two digits. */
  public static String size(double value, String unit) {
    QuantityText.Scale scale = scale(value, unit);
    String count = NumberText.significant(value / scale.size(), 2);
    return scale.symbol().isEmpty() ? count : count + " " + scale.symbol();
  }

  /** The coverage interval, with the decimals that its width justifies. */
  public static String interval(ComputationOutcome.Uncertainty u, String unit) {
    double width = (u.upper() - u.lower()) / 2;
    QuantityText.Scale scale = scale(Math.max(Math.abs(u.lower()), Math.abs(u.upper())), unit);
    int decimals = width > 0 ? Math.max(0, NumberText.decimalsFor(width / scale.size())) : DIGITS;
    return NumberText.fixed(u.lower() / scale.size(), decimals)
        + " to "
        + NumberText.fixed(u.upper() / scale.size(), decimals)
        + " "
        + scale.symbol();
  }

  /** A limit in words. */
  public static String limit(Limit limit, String unit) {
    OptionalDouble low = limit.lower();
    OptionalDouble high = limit.upper();
    if (low.isPresent() && high.isPresent()) {
      return between(exact(low.getAsDouble(), unit), exact(high.getAsDouble(), unit));
    }
    return low.isPresent()
        ? "at least " + exact(low.getAsDouble(), unit)
        : "at most " + exact(high.orElseThrow(), unit);
  }

  /** A computed limit in words, with four digits. */
  public static String rounded(Limit limit, String unit) {
    OptionalDouble low = limit.lower();
    OptionalDouble high = limit.upper();
    if (low.isPresent() && high.isPresent()) {
      return between(number(low.getAsDouble(), unit), number(high.getAsDouble(), unit));
    }
    return low.isPresent()
        ? "at least " + number(low.getAsDouble(), unit)
        : "at most " + number(high.orElseThrow(), unit);
  }

  /**
   * A limit reduced by an uncertainty, without its unit, with the decimals of two digits of the
   * uncertainty.
   */
  public static String bare(Limit limit, double expanded, String unit) {
    double size = Math.max(Math.abs(limit.lower().orElse(0)), Math.abs(limit.upper().orElse(0)));
    QuantityText.Scale scale = scale(size, unit);
    int decimals =
        expanded > 0 ? Math.max(0, NumberText.decimalsFor(expanded / scale.size())) : DIGITS;
    String low = decimal(limit.lower(), scale, decimals);
    String high = decimal(limit.upper(), scale, decimals);
    if (low.isEmpty() || high.isEmpty()) {
      return low.isEmpty() ? "at most " + high : "at least " + low;
    }
    return low + " to " + high;
  }

  private static String decimal(OptionalDouble side, QuantityText.Scale scale, int decimals) {
    return side.isPresent() ? NumberText.fixed(side.getAsDouble() / scale.size(), decimals) : "";
  }

  /** An interval; the unit is given once if both ends have the same. */
  private static String between(String low, String high) {
    String unit = high.substring(high.lastIndexOf(' '));
    String first = low.endsWith(unit) ? low.substring(0, low.length() - unit.length()) : low;
    return first + " to " + high;
  }

  private static String exact(double value, String unit) {
    Dimension dimension = PREFIXED.get(unit);
    return dimension == null
        ? NumberText.print(rounded(value)) + " " + unit
        : QuantityText.print(value, dimension);
  }

  /** Removes the rounding error of a change of units from the last digits. */
  private static double rounded(double value) {
    return NumberText.parse(NumberText.significant(value, CERTAIN)).orElse(value);
  }

  /** Degrees of freedom; they are infinite for most results. */
  public static String degrees(OptionalDouble degrees) {
    if (degrees.isEmpty()) {
      return "infinite";
    }
    double number = degrees.getAsDouble();
    return number > SO_GOOD_AS_INFINITE ? "> 1e6" : NumberText.significant(number, 3);
  }
}
