// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.function.ObjDoubleConsumer;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;

/**
 * A value with everything that is known of its error: for each source, by how much one standard
 * deviation of it moves the value, with its sign. Arithmetic propagates to first order (JCGM
 * 100:2008, 5.1.2 and 5.2.2; methods.md 2.3, 2.4), so that what estimates share cancels or adds by
 * itself.
 *
 * <p>A value that was drawn in a trial asks for no uncertainty: it carries no sources, only how
 * large what it shares with no other is, by which fits weigh it. Whatever is computed from a drawn
 * value is drawn.
 *
 * <p>Immutable and thread-safe.
 */
public final class Estimate {
  private static final ErrorSource[] NONE = {};
  private static final double[] NO_PARTS = {};

  private final double value;

  /** In their order, each once. */
  private final ErrorSource[] sources;

  private final double[] parts;

  /** Of a drawn value: standard uncertainty of its own; else 0. */
  private final double own;

  /** Of a drawn value: standard uncertainty that it shares within its stay alone; else 0. */
  private final double ofStay;

  private final boolean drawn;

  private Estimate(double value, ErrorSource[] sources, double[] parts) {
    this(value, sources, parts, false, 0, 0);
  }

  private Estimate(
      double value,
      ErrorSource[] sources,
      double[] parts,
      boolean drawn,
      double own,
      double ofStay) {
    if (!Double.isFinite(value)) {
      throw new IllegalArgumentException("an estimate is finite, found " + value);
    }
    this.value = value;
    this.sources = sources;
    this.parts = parts;
    this.drawn = drawn;
    this.own = own;
    this.ofStay = ofStay;
  }

  /**
   * A value of a trial, with what fits weigh it by (methods.md 2.5).
   *
   * @param value finite
   * @param own standard uncertainty that it shares with no other value, 0 or more
   * @param ofStay standard uncertainty that all values of its stay share and no other, 0 or more
   * @return the estimate
   */
  public static Estimate drawn(double value, double own, double ofStay) {
    return new Estimate(value, NONE, NO_PARTS, true, own, ofStay);
  }

  /**
   * Tells whether this is a value of a trial, of which no uncertainty is asked.
   *
   * @return true where {@link #drawn(double, double, double)} or what was computed from it made it
   */
  public boolean isDrawn() {
    return drawn;
  }

  /**
   * A number without error.
   *
   * @param value finite
   * @return the estimate
   */
  public static Estimate exact(double value) {
    return new Estimate(value, NONE, NO_PARTS);
  }

  /**
   * This estimate with one more error.
   *
   * @param source what the error comes from
   * @param sensitivity by how much this value moves per unit of the source
   * @return the estimate with the error added
   */
  public Estimate with(ErrorSource source, double sensitivity) {
    double contribution = sensitivity * source.value();
    if (contribution == 0) {
      return this;
    } else if (drawn) {
      return source.pointWise()
          ? drawn(value, Math.sqrt(own * own + contribution * contribution), ofStay)
          : this;
    }
    Estimate one = new Estimate(0, new ErrorSource[] {source}, new double[] {contribution});
    return pair(value, this, 1, one, 1);
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
  public Map<ErrorSource, Double> contributions() {
    SortedMap<ErrorSource, Double> all = new TreeMap<>();
    for (int i = 0; i < sources.length; i++) {
      all.put(sources[i], parts[i]);
    }
    return Collections.unmodifiableMap(all);
  }

  /**
   * Hands each source with its contribution to a consumer, in the order of the sources.
   *
   * @param consumer takes the source and by how much one standard deviation of it moves the value
   */
  public void forEachPart(ObjDoubleConsumer<ErrorSource> consumer) {
    for (int i = 0; i < sources.length; i++) {
      consumer.accept(sources[i], parts[i]);
    }
  }

  int size() {
    return sources.length;
  }

  ErrorSource source(int i) {
    return sources[i];
  }

  double part(int i) {
    return parts[i];
  }

  /**
   * Tells whether anything is known of the error.
   *
   * @return false for an exact number
   */
  public boolean hasUncertainty() {
    return sources.length > 0 || own > 0;
  }

  /**
   * The combined standard uncertainty (JCGM 100:2008, 5.1.2; methods.md 2.4).
   *
   * @return u, 0 or more
   */
  public double standardUncertainty() {
    if (drawn) {
      return Math.sqrt(own * own + ofStay * ofStay);
    }
    return standardUncertainty(source -> true);
  }

  /**
   * The standard uncertainty from some sources alone.
   *
   * @param which the sources that count; of a drawn value all that it carries counts
   * @return u, 0 or more
   */
  public double standardUncertainty(Predicate<ErrorSource> which) {
    if (drawn) {
      return standardUncertainty();
    }
    double sum = 0;
    for (int i = 0; i < sources.length; i++) {
      if (which.test(sources[i])) {
        sum += parts[i] * parts[i];
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
    if (drawn) {
      return own;
    }
    return standardUncertainty(ErrorSource::pointWise);
  }

  /**
   * Covariance with another estimate: what they share (JCGM 100:2008, F.1.2.3).
   *
   * @param other the other
   * @return the sum over common sources of the products of contributions
   */
  public double covariance(Estimate other) {
    double sum = 0;
    int j = 0;
    for (int i = 0; i < sources.length; i++) {
      while (j < other.sources.length && other.sources[j].compareTo(sources[i]) < 0) {
        j++;
      }
      if (j < other.sources.length && other.sources[j].equals(sources[i])) {
        sum += parts[i] * other.parts[j];
      }
    }
    return sum;
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
          "%s weights for %s terms".formatted(weights.length, terms.size()));
    }
    double sum = constant;
    for (int i = 0; i < weights.length; i++) {
      sum += weights[i] * terms.get(i).value;
    }
    if (weights.length == 1) {
      return pair(sum, terms.get(0), weights[0], exact(0), 0);
    } else if (weights.length == 2) {
      return pair(sum, terms.get(0), weights[0], terms.get(1), weights[1]);
    }
    return many(sum, weights, terms);
  }

  private static Estimate many(double value, double[] weights, List<Estimate> terms) {
    for (Estimate term : terms) {
      if (term.drawn) {
        return manyDrawn(value, weights, terms);
      }
    }
    // In the order of the terms, which is nearly theirs, so that sorting is quick.
    Map<ErrorSource, double[]> all = new LinkedHashMap<>();
    for (int i = 0; i < weights.length; i++) {
      Estimate term = terms.get(i);
      for (int k = 0; weights[i] != 0 && k < term.sources.length; k++) {
        all.computeIfAbsent(term.sources[k], s -> new double[1])[0] += weights[i] * term.parts[k];
      }
    }
    ErrorSource[] sources = all.keySet().toArray(NONE);
    Arrays.sort(sources);
    double[] parts = new double[sources.length];
    for (int i = 0; i < sources.length; i++) {
      parts[i] = all.get(sources[i])[0];
    }
    return new Estimate(value, sources, parts);
  }

  /** Own errors are independent of one another, those of a stay are the same. */
  private static Estimate manyDrawn(double value, double[] weights, List<Estimate> terms) {
    double squares = 0;
    double common = 0;
    for (int i = 0; i < weights.length; i++) {
      double one = weights[i] * terms.get(i).pointUncertainty();
      squares += one * one;
      common += weights[i] * terms.get(i).ofStay;
    }
    return drawn(value, Math.sqrt(squares), Math.abs(common));
  }

  /** Merges two sorted lists of sources. */
  private static Estimate pair(double value, Estimate a, double wa, Estimate b, double wb) {
    if (a.drawn || b.drawn) {
      double u = wa * a.pointUncertainty();
      double v = wb * b.pointUncertainty();
      return drawn(value, Math.sqrt(u * u + v * v), Math.abs(wa * a.ofStay + wb * b.ofStay));
    }
    ErrorSource[] sources = new ErrorSource[a.sources.length + b.sources.length];
    double[] parts = new double[sources.length];
    int i = 0;
    int j = 0;
    int n = 0;
    while (i < a.sources.length || j < b.sources.length) {
      int order = order(a, i, b, j);
      ErrorSource next = order <= 0 ? a.sources[i] : b.sources[j];
      double part = 0;
      if (order <= 0) {
        part += wa * a.parts[i++];
      }
      if (order >= 0) {
        part += wb * b.parts[j++];
      }
      if (part != 0) {
        sources[n] = next;
        parts[n++] = part;
      }
    }
    return new Estimate(value, Arrays.copyOf(sources, n), Arrays.copyOf(parts, n));
  }

  private static int order(Estimate a, int i, Estimate b, int j) {
    if (i == a.sources.length) {
      return 1;
    }
    return j == b.sources.length ? -1 : a.sources[i].compareTo(b.sources[j]);
  }

  /**
   * The arithmetic mean.
   *
   * @param terms the estimates, at least one
   * @return their mean
   */
  public static Estimate mean(List<Estimate> terms) {
    double[] weights = new double[terms.size()];
    Arrays.fill(weights, 1.0 / terms.size());
    return combine(0, weights, terms);
  }

  /**
   * A function of estimates, by its value and its partial derivatives there (JCGM 100:2008, 5.1.3).
   *
   * @param value of the function
   * @param partials derivative by each argument
   * @param arguments the estimates
   * @return the function's estimate
   */
  public static Estimate function(double value, double[] partials, List<Estimate> arguments) {
    Estimate linear = combine(0, partials, arguments);
    return linear.at(value);
  }

  /**
   * Sum.
   *
   * @param other the other term
   * @return this + other
   */
  public Estimate plus(Estimate other) {
    return pair(value + other.value, this, 1, other, 1);
  }

  /**
   * Sum with a number.
   *
   * @param constant without error
   * @return this + constant
   */
  public Estimate plus(double constant) {
    return at(value + constant);
  }

  /**
   * Difference.
   *
   * @param other what is taken off
   * @return this - other
   */
  public Estimate minus(Estimate other) {
    return pair(value - other.value, this, 1, other, -1);
  }

  /**
   * Product with a number.
   *
   * @param factor without error
   * @return this times factor
   */
  public Estimate times(double factor) {
    if (drawn) {
      double size = Math.abs(factor);
      return drawn(value * factor, own * size, ofStay * size);
    }
    return pair(value * factor, this, factor, exact(0), 0);
  }

  /**
   * Product.
   *
   * @param other the other factor
   * @return this times other
   */
  public Estimate times(Estimate other) {
    return pair(value * other.value, this, other.value, other, value);
  }

  /**
   * Quotient.
   *
   * @param other the divisor, not 0
   * @return this over other
   */
  public Estimate over(Estimate other) {
    double quotient = value / other.value;
    return pair(quotient, this, 1 / other.value, other, -quotient / other.value);
  }

  /**
   * The errors alone, about zero.
   *
   * @return value 0 with the same contributions
   */
  public Estimate errorsOnly() {
    return at(0);
  }

  private Estimate at(double other) {
    return new Estimate(other, sources, parts, drawn, own, ofStay);
  }

  /**
   * The same value with some of its errors made larger, as where scatter shows that they were taken
   * too small.
   *
   * @param factor 1 or more
   * @param which the sources that are widened; of a drawn value its own errors are
   * @return the widened estimate
   */
  public Estimate widened(double factor, Predicate<ErrorSource> which) {
    if (drawn) {
      return drawn(value, own * factor, ofStay);
    }
    double[] wider = parts.clone();
    for (int i = 0; i < wider.length; i++) {
      wider[i] *= which.test(sources[i]) ? factor : 1;
    }
    return new Estimate(value, sources, wider);
  }

  /**
   * The same contributions under changed sources, as where the size of an error turns out to be
   * known less well.
   *
   * @param change gives the source that stands in for each; distinct for distinct ones
   * @return the changed estimate
   */
  public Estimate withSources(UnaryOperator<ErrorSource> change) {
    if (sources.length == 0) {
      return this;
    }
    double[] ones = new double[sources.length];
    Arrays.fill(ones, 1);
    Estimate[] each = new Estimate[sources.length];
    for (int i = 0; i < each.length; i++) {
      each[i] =
          new Estimate(0, new ErrorSource[] {change.apply(sources[i])}, new double[] {parts[i]});
    }
    Estimate changed = many(value, ones, List.of(each));
    return changed;
  }

  /**
   * The same estimate, the noise that its points share seen as one kind of result sees it.
   *
   * @param use what is asked
   * @return the estimate
   */
  public Estimate forUse(CorrelatedNoise.Use use) {
    if (sources.length == 0) {
      return this;
    }
    ErrorSource[] changed = new ErrorSource[sources.length];
    for (int i = 0; i < changed.length; i++) {
      ErrorSource s = sources[i];
      changed[i] = s.noise().isPresent() ? s.sharing(s.noise().get().forUse(use)) : s;
    }
    return new Estimate(value, changed, parts);
  }

  @Override
  public String toString() {
    return value + " +/- " + standardUncertainty();
  }
}
