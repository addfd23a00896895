package millrace.analysis.uncertainty;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import millrace.evidence.Component;
import millrace.evidence.Distribution;
import millrace.evidence.Outcome;

/**
 * What an estimate's uncertainty is made of, and what interval follows from it. Each source's
 * sensitivities were added before (JCGM 100:2008, G.4.1 needs independent terms); sources of one
 * component and group that differ only by instance make one row (measurement.md 2.4).
 */
public final class Budget {
  /** A rectangular component beyond this share of u makes the interval that of JCGM 101. */
  public static final double DOMINANT = 0.7;

  private final Estimate estimate;
  private final List<Row> rows;

  private record Row(
      Source first, double sumOfSquares, double squaredValues, int instances, double signed) {
    double contribution() {
      return Math.sqrt(sumOfSquares);
    }
  }

  private Budget(Estimate estimate, List<Row> rows) {
    this.estimate = estimate;
    this.rows = rows;
  }

  /**
   * The budget of an estimate.
   *
   * @param estimate the estimate
   * @return its budget
   */
  public static Budget of(Estimate estimate) {
    Map<String, Row> rows = new TreeMap<>();
    estimate
        .contributions()
        .forEach(
            (source, c) ->
                rows.merge(
                    source.component() + "\u0000" + source.group() + "\u0000" + source.unit(),
                    new Row(source, c * c, source.value() * source.value(), 1, c),
                    Budget::together));
    List<Row> sorted = new ArrayList<>(rows.values());
    sorted.sort(Comparator.comparingDouble(Row::sumOfSquares).reversed());
    return new Budget(estimate, sorted);
  }

  private static Row together(Row a, Row b) {
    return new Row(
        a.first,
        a.sumOfSquares + b.sumOfSquares,
        a.squaredValues + b.squaredValues,
        a.instances + b.instances,
        a.signed + b.signed);
  }

  /**
   * The rows, largest contribution first, in the form of JCGM 100:2008, annex H.1.
   *
   * @return the rows
   */
  public List<Component> components() {
    return rows.stream().map(Budget::component).toList();
  }

  private static Component component(Row row) {
    double value = Math.sqrt(row.squaredValues / row.instances);
    double contribution = row.contribution();
    double sensitivity = value == 0 ? 0 : contribution / value;
    return new Component(
        row.first.component(),
        row.first.group(),
        value,
        row.first.unit(),
        row.first.distribution(),
        row.instances == 1 ? Math.copySign(sensitivity, row.signed) : sensitivity,
        contribution,
        row.first.degreesOfFreedom());
  }

  /**
   * Effective degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4.1, G.2b).
   *
   * @return nu_eff; empty for infinite
   */
  public OptionalDouble degreesOfFreedom() {
    double u2 = rows.stream().mapToDouble(Row::sumOfSquares).sum();
    double sum = 0;
    for (Row row : rows) {
      if (row.first.degreesOfFreedom().isPresent()) {
        double c2 = row.sumOfSquares;
        sum += c2 * c2 / row.first.degreesOfFreedom().getAsDouble();
      }
    }
    return sum == 0 ? OptionalDouble.empty() : OptionalDouble.of(u2 * u2 / sum);
  }

  /**
   * The uncertainty at a coverage.
   *
   * @param probability of the interval, above 0 and below 1
   * @return u, U, interval, k and degrees of freedom
   */
  public Outcome.Uncertainty uncertainty(double probability) {
    double u = estimate.standardUncertainty();
    OptionalDouble nu = degreesOfFreedom();
    Optional<Row> dominant = dominant(u);
    double expanded =
        dominant.isPresent()
            ? Coverage.rectangularAndNormal(
                dominant.get().contribution(),
                Math.sqrt(Math.max(0, u * u - dominant.get().sumOfSquares)),
                probability)
            : u * Coverage.factor(probability, nu);
    double k = u == 0 ? Coverage.factor(probability, nu) : expanded / u;
    return new Outcome.Uncertainty(
        u, expanded, estimate.value() - expanded, estimate.value() + expanded, probability, k, nu);
  }

  private Optional<Row> dominant(double u) {
    return rows.stream()
        .filter(r -> r.instances == 1 && r.first.distribution() == Distribution.RECTANGULAR)
        .filter(r -> u > 0 && r.contribution() / u > DOMINANT)
        .findFirst();
  }

  /**
   * Tells whether one rectangular component shapes the interval.
   *
   * @return true if its share exceeds {@link #DOMINANT}
   */
  public boolean shapedByOneRectangle() {
    return dominant(estimate.standardUncertainty()).isPresent();
  }
}
