package millrace.analysis.uncertainty;

import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.Predicate;

/**
 * A value with everything that is known of its error: for each source, by how much one standard
 * deviation of it moves the value, with its sign. Arithmetic propagates to first order (JCGM
 * 100:2008, 5.1.2 and 5.2.2), so that what estimates share cancels or adds by itself.
 *
 * <p>Immutable and thread-safe.
 */
public final class Estimate {
  private final double value;
  private final SortedMap<Source, Double> contributions;

  private Estimate(double value, SortedMap<Source, Double> contributions) {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("an estimate is finite, found " + value);
    }
    this.value = value;
    this.contributions = contributions;
  }

  /**
   * A number without error.
   *
   * @param value finite
   * @return the estimate
   */
  public static Estimate exact(double value) {
    return new Estimate(value, new TreeMap<>());
  }

  /**
   * This estimate with one more error.
   *
   * @param source what the error comes from
   * @param sensitivity by how much this value moves per unit of the source
   * @return the estimate with the error added
   */
  public Estimate with(Source source, double sensitivity) {
    double contribution = sensitivity * source.value();
    if (contribution == 0) {
      return this;
    }
    TreeMap<Source, Double> more = new TreeMap<>(contributions);
    more.merge(source, contribution, Double::sum);
    return new Estimate(value, more);
  }

  /**
   * The best value.
   *
   * @return in the unit of the quantity
   */
  public double value() {
    return value;
  }

  /**
   * By how much one standard deviation of each source moves the value.
   *
   * @return sorted by source; in the unit of the quantity, signed
   */
  public Map<Source, Double> contributions() {
    return Collections.unmodifiableMap(contributions);
  }

  /**
   * The combined standard uncertainty (JCGM 100:2008, 5.1.2).
   *
   * @return u, 0 or more
   */
  public double standardUncertainty() {
    return standardUncertainty(source -> true);
  }

  /**
   * The standard uncertainty from some sources alone.
   *
   * @param which the sources that count
   * @return u, 0 or more
   */
  public double standardUncertainty(Predicate<Source> which) {
    double sum = 0;
    for (Map.Entry<Source, Double> entry : contributions.entrySet()) {
      if (which.test(entry.getKey())) {
        sum += entry.getValue() * entry.getValue();
      }
    }
    return Math.sqrt(sum);
  }

  /**
   * The standard uncertainty that this estimate shares with no other point.
   *
   * @return u, 0 or more
   */
  public double pointUncertainty() {
    return standardUncertainty(source -> source.group().equals(Source.POINT));
  }

  /**
   * A linear combination, constant + sum of weight times term.
   *
   * @param constant without error
   * @param weights one per term
   * @param terms the estimates
   * @return the combination
   */
  public static Estimate combine(double constant, double[] weights, List<Estimate> terms) {
    if (weights.length != terms.size()) {
      throw new IllegalArgumentException(
          "%d weights for %d terms".formatted(weights.length, terms.size()));
    }
    double sum = constant;
    TreeMap<Source, Double> all = new TreeMap<>();
    for (int i = 0; i < weights.length; i++) {
      sum += weights[i] * terms.get(i).value;
      add(all, terms.get(i), weights[i]);
    }
    return new Estimate(sum, all);
  }

  private static void add(SortedMap<Source, Double> all, Estimate term, double weight) {
    if (weight != 0) {
      term.contributions.forEach((source, c) -> all.merge(source, weight * c, Double::sum));
    }
  }

  /**
   * A function of estimates, by its value and its partial derivatives there.
   *
   * @param value of the function
   * @param partials derivative by each argument
   * @param arguments the estimates
   * @return the function's estimate
   */
  public static Estimate function(double value, double[] partials, List<Estimate> arguments) {
    Estimate linear = combine(0, partials, arguments);
    return new Estimate(value, linear.contributions);
  }

  /**
   * Sum.
   *
   * @param other the other term
   * @return this + other
   */
  public Estimate plus(Estimate other) {
    return combine(0, new double[] {1, 1}, List.of(this, other));
  }

  /**
   * Difference.
   *
   * @param other what is taken off
   * @return this - other
   */
  public Estimate minus(Estimate other) {
    return combine(0, new double[] {1, -1}, List.of(this, other));
  }

  /**
   * Product with a number.
   *
   * @param factor without error
   * @return this times factor
   */
  public Estimate times(double factor) {
    return combine(0, new double[] {factor}, List.of(this));
  }

  /**
   * Product.
   *
   * @param other the other factor
   * @return this times other
   */
  public Estimate times(Estimate other) {
    return function(value * other.value, new double[] {other.value, value}, List.of(this, other));
  }

  /**
   * Quotient.
   *
   * @param other the divisor, not 0
   * @return this over other
   */
  public Estimate over(Estimate other) {
    double quotient = value / other.value;
    return function(
        quotient, new double[] {1 / other.value, -quotient / other.value}, List.of(this, other));
  }

  /**
   * The same value with all its errors made larger, as where scatter shows that they were taken too
   * small.
   *
   * @param factor 1 or more
   * @param which the sources that are widened
   * @return the widened estimate
   */
  public Estimate widened(double factor, Predicate<Source> which) {
    TreeMap<Source, Double> wider = new TreeMap<>();
    contributions.forEach((s, c) -> wider.put(s, which.test(s) ? c * factor : c));
    return new Estimate(value, wider);
  }
}
