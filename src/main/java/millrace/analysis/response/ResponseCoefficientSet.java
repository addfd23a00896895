// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.response;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * Coefficients of a response with their joint covariance, as a type run supplies them and another
 * run takes them (methods.md 11.6).
 *
 * @param of which coefficients, each once
 * @param values one each, in the unit of the coefficient
 * @param covariance of the values, symmetric
 * @param scaleV V_s, the unit of x, V, above 0
 * @param domain the conditions that they hold for
 */
@SuppressWarnings("ArrayRecordComponent") // copied in and out, compared by content
public record ResponseCoefficientSet(
    List<ResponseCoefficient> of,
    double[] values,
    double[][] covariance,
    double scaleV,
    ResponseValidityDomain domain) {

  /** Copies and checks the sizes. */
  public ResponseCoefficientSet {
    of = List.copyOf(of);
    values = values.clone();
    covariance = Arrays.stream(covariance).map(double[]::clone).toArray(double[][]::new);
    if (values.length != of.size() || covariance.length != of.size()) {
      throw new IllegalArgumentException(
          "%s coefficients with %s values and %s rows of covariance"
              .formatted(of.size(), values.length, covariance.length));
    }
    for (int i = 0; i < covariance.length; i++) {
      if (!(covariance[i][i] > 0)) {
        throw new IllegalArgumentException(
            "coefficient %s has a variance of %s, must be above 0"
                .formatted(of.get(i).text(), covariance[i][i]));
      }
    }
    if (!(scaleV > 0)) {
      throw new IllegalArgumentException("V_s is " + scaleV + " V, must be above 0");
    }
  }

  /**
   * Independent coefficients, such as those of a design.
   *
   * @param of which
   * @param values one each
   * @param u standard uncertainty of each
   * @param scaleV V_s, V, above 0
   * @param domain where they hold
   * @return the coefficients
   */
  public static ResponseCoefficientSet independent(
      List<ResponseCoefficient> of,
      double[] values,
      double[] u,
      double scaleV,
      ResponseValidityDomain domain) {
    double[][] covariance = new double[u.length][u.length];
    for (int i = 0; i < u.length; i++) {
      covariance[i][i] = u[i] * u[i];
    }
    return new ResponseCoefficientSet(of, values, covariance, scaleV, domain);
  }

  /**
   * A selection of the coefficients.
   *
   * @param which the coefficients to keep; those not present are ignored
   * @return the coefficients that are present and selected
   */
  public ResponseCoefficientSet only(List<ResponseCoefficient> which) {
    int[] kept = IntStream.range(0, of.size()).filter(i -> which.contains(of.get(i))).toArray();
    double[] some = Arrays.stream(kept).mapToDouble(i -> values[i]).toArray();
    double[][] block = new double[kept.length][kept.length];
    for (int i = 0; i < kept.length; i++) {
      for (int j = 0; j < kept.length; j++) {
        block[i][j] = covariance[kept[i]][kept[j]];
      }
    }
    List<ResponseCoefficient> names = Arrays.stream(kept).mapToObj(of::get).toList();
    return new ResponseCoefficientSet(names, some, block, scaleV, domain);
  }

  /**
   * The same with the spread between units added to the variance of one coefficient.
   *
   * @param coefficient the coefficient; ignored if it is not present
   * @param standardDeviation between units, in the unit of the coefficient, 0 or more
   * @return the coefficients with their uncertainty for another unit
   */
  public ResponseCoefficientSet withSpread(
      ResponseCoefficient coefficient, double standardDeviation) {
    int i = of.indexOf(coefficient);
    if (i < 0) {
      return this;
    }
    double[][] wider = covariance();
    wider[i][i] += standardDeviation * standardDeviation;
    return new ResponseCoefficientSet(of, values, wider, scaleV, domain);
  }

  /**
   * One value.
   *
   * @param coefficient which
   * @return its value and standard uncertainty; empty if it is not present
   */
  public Optional<double[]> valueAndU(ResponseCoefficient coefficient) {
    int i = of.indexOf(coefficient);
    return i < 0
        ? Optional.empty()
        : Optional.of(new double[] {values[i], Math.sqrt(Math.max(0, covariance[i][i]))});
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
    return other instanceof ResponseCoefficientSet c
        && of.equals(c.of)
        && Arrays.equals(values, c.values)
        && Arrays.deepEquals(covariance, c.covariance)
        && scaleV == c.scaleV
        && domain.equals(c.domain);
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
