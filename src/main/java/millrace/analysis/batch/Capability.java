// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.batch;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.Limit;
import millrace.quantity.NumberText;
import org.apache.commons.math3.distribution.NormalDistribution;

/**
 * Process capability: Cp and Cpk from the short-term scatter (mean moving range over d2), Pp and
 * Ppk from the overall standard deviation; intervals by chi squared, those of Cpk and Ppk after
 * Bissell, Appl. Statist. 39 (1990) 331 (NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6;
 * methods.md 8).
 *
 * @param cp (T_U - T_L)/(6 sigma); empty for a one-sided limit
 * @param cpk distance of the mean from the nearer limit over 3 sigma
 * @param pp as cp, with the overall standard deviation
 * @param ppk as cpk, with the overall standard deviation
 * @param normality of the values
 * @param notes remarks for the reader, above all where the indices are not reliable
 */
public record Capability(
    Optional<Index> cp,
    Index cpk,
    Optional<Index> pp,
    Index ppk,
    Normality normality,
    List<String> notes) {

  /**
   * Least number of values: with fewer, the intervals of the indices do not hold (e-Handbook 6.1.6,
   * from memory).
   */
  public static final int FEWEST = 25;

  /**
   * Number of values from which a capability study counts as complete (e-Handbook 6.1.6, from
   * memory).
   */
  public static final int ENOUGH = 100;

  /** Degrees of freedom per value of a mean moving range (Wheeler, from memory). */
  private static final double MOVING_RANGE_EFFICIENCY = 0.62;

  private static final double SMALLEST_STATED = 1e-6;
  private static final NormalDistribution NORMAL = new NormalDistribution(null, 0, 1);

  /** Copies the list. */
  public Capability {
    notes = List.copyOf(notes);
  }

  /**
   * One index.
   *
   * @param value the index, no unit
   * @param interval its interval
   */
  public record Index(double value, Interval interval) {}

  /**
   * The capability of values against a limit.
   *
   * @param values in the order of production, in the unit of the limit
   * @param limit one- or two-sided
   * @param coverage probability of intervals
   * @return the indices; empty with fewer than {@link #FEWEST} values or if all values are equal
   */
  public static Optional<Capability> of(double[] values, Limit limit, double coverage) {
    if (values.length < FEWEST) {
      return Optional.empty();
    }
    BatchMeanAndSpread spread = BatchMeanAndSpread.of(values);
    if (spread.sd() == 0) {
      return Optional.empty();
    }
    int n = values.length;
    double within = IndividualsChart.sigma(values);
    double few = MOVING_RANGE_EFFICIENCY * (n - 1);
    Normality normality = Normality.of(values);
    return Optional.of(
        new Capability(
            width(limit, within, few, coverage),
            nearer(limit, spread, within, few, coverage),
            width(limit, spread.sd(), n - 1, coverage),
            nearer(limit, spread, spread.sd(), n - 1, coverage),
            normality,
            notes(normality, n)));
  }

  private static List<String> notes(Normality normality, int n) {
    List<String> notes = new ArrayList<>();
    if (n < ENOUGH) {
      notes.add(
          "%s values: the interval counts, not the index; %s are wanted".formatted(n, ENOUGH));
    }
    if (!normality.plausible()) {
      notes.add(
          "not normal (Anderson-Darling, p %s): tells nothing of shares beyond the limits"
              .formatted(words(normality.probability())));
    }
    return notes;
  }

  private static String words(double probability) {
    return probability < SMALLEST_STATED
        ? "below 1e-6"
        : "= " + NumberText.significant(probability, 2);
  }

  /** (T_U - T_L)/(6 sigma). */
  static Optional<Index> width(Limit limit, double sigma, double nu, double coverage) {
    if (!limit.twoSided()) {
      return Optional.empty();
    }
    double value = (limit.upper().getAsDouble() - limit.lower().getAsDouble()) / (6 * sigma);
    Interval ratio = BatchMeanAndSpread.ratio(nu, coverage);
    return Optional.of(
        new Index(value, new Interval(value / ratio.upper(), value / ratio.lower())));
  }

  /** min(T_U - mean, mean - T_L)/(3 sigma), u^2 = 1/(9 n) + index^2/(2 nu). */
  static Index nearer(
      Limit limit, BatchMeanAndSpread spread, double sigma, double nu, double coverage) {
    double upper = room(limit.upper(), spread.mean(), 1);
    double lower = room(limit.lower(), spread.mean(), -1);
    double value = Math.min(upper, lower) / (3 * sigma);
    double u = Math.sqrt(1 / (9.0 * spread.n()) + value * value / (2 * nu));
    double z = NORMAL.inverseCumulativeProbability((1 + coverage) / 2);
    return new Index(value, new Interval(value - z * u, value + z * u));
  }

  private static double room(OptionalDouble limit, double mean, int side) {
    return limit.isPresent() ? side * (limit.getAsDouble() - mean) : Double.POSITIVE_INFINITY;
  }
}
