// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.util.Map;
import millrace.evidence.ComputationOutcome;
import millrace.quantity.NumberText;

/**
 * Numbers and units in the form of D-SI 2.1. U has two significant digits and the value as many
 * decimals, as on a printed certificate (JCGM 100:2008, 7.2.6). Stateless, thread-safe.
 */
final class DsiReal {
  private static final MathContext TWO_DIGITS = new MathContext(2, RoundingMode.HALF_UP);

  private static final Map<String, String> UNITS =
      Map.ofEntries(
          Map.entry("A", "\\ampere"),
          Map.entry("V", "\\volt"),
          Map.entry("S", "\\siemens"),
          Map.entry("ohm", "\\ohm"),
          Map.entry("s", "\\second"),
          Map.entry("Hz", "\\hertz"),
          Map.entry("degC", "\\degreecelsius"),
          Map.entry("ppm", "\\ppm"),
          Map.entry("ppm/V", "\\ppm\\volt\\tothe{-1}"),
          Map.entry("ppm/K", "\\ppm\\kelvin\\tothe{-1}"),
          Map.entry("ppm/K2", "\\ppm\\kelvin\\tothe{-2}"),
          Map.entry("ppm/h", "\\ppm\\hour\\tothe{-1}"),
          Map.entry("1", "\\one"));

  private DsiReal() {}

  /** A unit of Millrace by its name in D-SI. */
  static String unit(String ours) {
    String unit = UNITS.get(ours);
    if (unit == null) {
      throw new IllegalArgumentException("the unit '" + ours + "' has no name in D-SI");
    }
    return unit;
  }

  /** A number without an uncertainty of its own, such as a limit. */
  static void exact(DccNode in, double value, String unit) {
    in.with(
        "si:real",
        real ->
            real.add("si:value", BigDecimal.valueOf(value).toString()).add("si:unit", unit(unit)));
  }

  /** A value with U, k and the probability that the interval covers the measurand. */
  static void measured(DccNode in, double value, ComputationOutcome.Uncertainty u, String unit) {
    BigDecimal expanded = BigDecimal.valueOf(u.expanded()).round(TWO_DIGITS);
    BigDecimal rounded =
        BigDecimal.valueOf(value).setScale(expanded.scale(), RoundingMode.HALF_EVEN);
    in.with(
        "si:real",
        real -> {
          real.add("si:value", rounded.toString()).add("si:unit", unit(unit));
          if (u.coverageFactor() < 1) {
            interval(real, u);
            return;
          }
          real.with(
              "si:expandedUnc",
              e ->
                  e.add("si:uncertainty", expanded.toString())
                      .add("si:coverageFactor", NumberText.fixed(u.coverageFactor(), 2))
                      .add("si:coverageProbability", NumberText.print(u.coverage())));
        });
  }

  /** The schema has no k below 1, which a rectangular component can have. */
  private static void interval(DccNode real, ComputationOutcome.Uncertainty u) {
    real.with(
        "si:coverageInterval",
        i ->
            i.add("si:standardUnc", BigDecimal.valueOf(u.standard()).toString())
                .add("si:intervalMin", BigDecimal.valueOf(u.lower()).toString())
                .add("si:intervalMax", BigDecimal.valueOf(u.upper()).toString())
                .add("si:coverageProbability", NumberText.print(u.coverage())));
  }
}
