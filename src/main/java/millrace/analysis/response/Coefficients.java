package millrace.analysis.response;

import java.util.Arrays;
import java.util.List;

/**
 * Coefficients of a response with their joint covariance: what a type run hands on, and what a run
 * takes from elsewhere (measurement.md 11.6).
 *
 * @param of which coefficients
 * @param values one each, in the unit of the coefficient
 * @param covariance of the values, symmetric
 * @param scaleV V_s, the voltage that x counts of, V
 * @param lowestDegC from which temperature on they were measured, degC
 * @param highestDegC up to which temperature, degC
 */
public record Coefficients(
    List<Coefficient> of,
    double[] values,
    double[][] covariance,
    double scaleV,
    double lowestDegC,
    double highestDegC) {

  /** Copies and checks the sizes. */
  public Coefficients {
    of = List.copyOf(of);
    values = values.clone();
    covariance = Arrays.stream(covariance).map(double[]::clone).toArray(double[][]::new);
    if (values.length != of.size() || covariance.length != of.size()) {
      throw new IllegalArgumentException(
          "%d coefficients with %d values and %d rows of covariance"
              .formatted(of.size(), values.length, covariance.length));
    }
  }

  @Override
  public double[] values() {
    return values.clone();
  }

  @Override
  public double[][] covariance() {
    return Arrays.stream(covariance).map(double[]::clone).toArray(double[][]::new);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Coefficients c
        && of.equals(c.of)
        && Arrays.equals(values, c.values)
        && Arrays.deepEquals(covariance, c.covariance)
        && scaleV == c.scaleV
        && lowestDegC == c.lowestDegC
        && highestDegC == c.highestDegC;
  }

  @Override
  public int hashCode() {
    return of.hashCode() + 31 * Arrays.hashCode(values);
  }

  @Override
  public String toString() {
    return of + " " + Arrays.toString(values);
  }
}
