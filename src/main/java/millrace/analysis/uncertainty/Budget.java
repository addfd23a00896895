// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.uncertainty;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.analysis.uncertainty.CorrelatedNoise.Carried;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.ErrorDistribution;

/**
 * What an estimate's uncertainty is made of, and what interval follows from it. Each source's
 * sensitivities were added before (JCGM 100:2008, G.4.1 needs independent terms); sources of one
 * component and group that differ only by instance make one row (methods.md 2.4), but those of
 * instruments: a row is one instrument's component on one of its ranges, with that certificate's u.
 *
 * <p>Immutable and thread-safe.
 */
public final class Budget {
  /** A rectangular component beyond this share of u makes the interval that of JCGM 101. */
  public static final double DOMINANT = 0.7;

  /** So many degrees of freedom change no digit of k that anybody prints. */
  private static final double AS_GOOD_AS_INFINITE = 1e6;

  /** What the interval says where one rectangle shapes it. */
  public static final String SHAPED_BY_RECTANGLE =
      "one rectangular component dominates: the interval is the shortest of JCGM 101";

  private final double value;
  private final List<Row> rows;
  private final List<Carried> shared;

  private Budget(double value, List<Row> rows, List<Carried> shared) {
    this.value = value;
    this.rows = rows;
    this.shared = shared;
  }

  /** The sources of one component and group, added up. */
  private static final class Row {
    private final ErrorSource first;
    private final Map<String, double[]> pools = new TreeMap<>();
    private double sumOfSquares;
    private double squaredValues;
    private double signed;
    private double largest;
    private int instances;
    private boolean named;

    Row(ErrorSource first) {
      this.first = first;
    }

    void add(ErrorSource source, double part) {
      sumOfSquares += part * part;
      squaredValues += source.value() * source.value();
      signed += part;
      largest = Math.max(largest, Math.abs(part));
      instances++;
      double nu = source.degreesOfFreedom().orElse(Double.POSITIVE_INFINITY);
      double[] pool = pools.computeIfAbsent(source.pool() + "\u0000" + nu, p -> new double[2]);
      pool[0] += part * part;
      pool[1] = nu;
    }

    double contribution() {
      return Math.sqrt(sumOfSquares);
    }

    /** The sum of u^4/nu over what was sized together, as Welch and Satterthwaite need it. */
    double fourthOverNu() {
      double sum = 0;
      for (double[] pool : pools.values()) {
        sum += pool[0] * pool[0] / pool[1];
      }
      return sum;
    }

    OptionalDouble degreesOfFreedom() {
      return effective(List.of(this));
    }

    BudgetComponent component() {
      double value = Math.sqrt(squaredValues / instances);
      double contribution = contribution();
      double sensitivity = value == 0 ? 0 : contribution / value;
      return new BudgetComponent(
          named ? first.component() + ", " + first.instance() : first.component(),
          first.group(),
          value,
          first.unit(),
          first.distribution(),
          instances == 1 ? Math.copySign(sensitivity, signed) : sensitivity,
          contribution,
          degreesOfFreedom());
    }
  }

  /**
   * The budget of an estimate (methods.md 2.4).
   *
   * @param estimate the estimate
   * @return its budget
   */
  public static Budget of(Estimate estimate) {
    CorrelatedNoiseComponents shared = CorrelatedNoiseComponents.of(estimate);
    Map<String, Row> rows = new TreeMap<>();
    for (int i = 0; i < estimate.size(); i++) {
      ErrorSource source = estimate.source(i);
      if (!shared.holds(source)) {
        rows.computeIfAbsent(key(source), k -> new Row(source)).add(source, estimate.part(i));
      }
    }
    List<Row> sorted = new ArrayList<>(rows.values());
    shared
        .sources()
        .forEach(
            (source, sensitivity) -> {
              Row row = new Row(source);
              row.add(source, source.value() * sensitivity);
              sorted.add(row);
            });
    tellApart(sorted);
    sorted.sort(Comparator.comparingDouble((Row r) -> r.sumOfSquares).reversed());
    return new Budget(estimate.value(), sorted, shared.carried());
  }

  private static String key(ErrorSource source) {
    String kind = source.component() + "\u0000" + source.group() + "\u0000" + source.unit();
    return ofInstrument(source) ? kind + "\u0000" + source.instance() : kind;
  }

  private static boolean ofInstrument(ErrorSource source) {
    return source.group().equals(ErrorSource.INSTRUMENT_AND_RANGE);
  }

  /** Where a component is there of several instruments or ranges, each row names its own. */
  private static void tellApart(List<Row> rows) {
    Map<String, Integer> count = new TreeMap<>();
    rows.forEach(r -> count.merge(r.first.component() + r.first.group(), 1, Integer::sum));
    for (Row row : rows) {
      boolean several = count.get(row.first.component() + row.first.group()) > 1;
      row.named = several && ofInstrument(row.first);
    }
  }

  /**
   * The rows, largest contribution first, in the form of JCGM 100:2008, annex H.1.
   *
   * @return the rows
   */
  public List<BudgetComponent> components() {
    return rows.stream().map(Row::component).toList();
  }

  /**
   * Effective degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4.1, G.2b; methods.md
   * 2.4).
   *
   * @return nu_eff; empty for infinite, or where k is that of infinitely many to six digits
   */
  public OptionalDouble degreesOfFreedom() {
    return effective(rows);
  }

  private static OptionalDouble effective(List<Row> rows) {
    double u2 = 0;
    double sum = 0;
    for (Row row : rows) {
      u2 += row.sumOfSquares;
      sum += row.fourthOverNu();
    }
    double degrees = u2 * u2 / sum;
    return degrees < AS_GOOD_AS_INFINITE ? OptionalDouble.of(degrees) : OptionalDouble.empty();
  }

  /**
   * The combined standard uncertainty (JCGM 100:2008, 5.1.2; methods.md 2.4).
   *
   * @return u, 0 or more
   */
  public double standardUncertainty() {
    return Math.sqrt(rows.stream().mapToDouble(r -> r.sumOfSquares).sum());
  }

  /**
   * The covariance of two estimates, noise that points share included with its mean variance (JCGM
   * 100:2008, F.1.2.3; methods.md 5.10).
   *
   * @param a one estimate
   * @param b the other
   * @return the covariance
   */
  public static double covariance(Estimate a, Estimate b) {
    return CorrelatedNoiseComponents.covariance(a, b);
  }

  /**
   * Tells whether the size of every error is known.
   *
   * @return false if the size of a noise could not be estimated: there is no uncertainty then
   */
  public boolean sizesKnown() {
    return shared.stream().allMatch(Carried::known);
  }

  /**
   * How the noise that points share was estimated.
   *
   * @return whole sentences
   */
  public List<String> notes() {
    return shared.stream().flatMap(c -> c.notes().stream()).distinct().toList();
  }

  /**
   * The uncertainty at a coverage: Student's t at the whole part of the degrees of freedom (JCGM
   * 100:2008, G.6.4), or the shortest interval of JCGM 101:2008 where one rectangular component
   * exceeds {@link #DOMINANT} of u (methods.md 2.4).
   *
   * @param probability of the interval, above 0 and below 1
   * @return u, U, interval, k and degrees of freedom
   */
  public ComputationOutcome.Uncertainty uncertainty(double probability) {
    double u = standardUncertainty();
    OptionalDouble nu = degreesOfFreedom();
    double usual = CoverageFactors.factor(probability, nu);
    double expanded = dominant(u).map(row -> shaped(row, probability)).orElse(u * usual);
    double k = u == 0 ? usual : expanded / u;
    return new ComputationOutcome.Uncertainty(
        u, expanded, value - expanded, value + expanded, probability, k, nu);
  }

  /** The rest counts as normal, made wider where its size rests on few degrees of freedom. */
  private double shaped(Row rectangle, double probability) {
    List<Row> others = rows.stream().filter(r -> r != rectangle).toList();
    double beside = rectangle.sumOfSquares - rectangle.largest * rectangle.largest;
    double rest =
        Math.sqrt(Math.max(0, beside) + others.stream().mapToDouble(r -> r.sumOfSquares).sum());
    double wider =
        CoverageFactors.factor(probability, effective(others))
            / CoverageFactors.factor(probability, OptionalDouble.empty());
    return CoverageFactors.rectangularAndNormal(rectangle.largest, rest * wider, probability);
  }

  /** A row may hold small ones of its kind beside it, as of a range that was read in passing. */
  private Optional<Row> dominant(double u) {
    return rows.stream()
        .filter(r -> r.first.distribution() == ErrorDistribution.RECTANGULAR)
        .filter(r -> u > 0 && r.largest / u > DOMINANT)
        .findFirst();
  }

  /**
   * Tells whether one rectangular component shapes the interval.
   *
   * @return true if its share exceeds {@link #DOMINANT}
   */
  public boolean shapedByOneRectangle() {
    return dominant(standardUncertainty()).isPresent();
  }
}
