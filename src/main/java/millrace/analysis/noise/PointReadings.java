// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.noise;

import java.util.Arrays;

/**
 * The readings of one point, with their times.
 *
 * @param name of the point, as its error is named
 * @param visit which visit to a temperature it belongs to
 * @param reference whether that is a visit to T_ref
 * @param condition what else it was taken at, such as the load: points alike have one level
 * @param timesS when each reading was taken, s, rising
 * @param values the readings, in any unit, as many, one or more
 */
@SuppressWarnings("ArrayRecordComponent") // copied in, never compared
public record PointReadings(
    String name, int visit, boolean reference, String condition, double[] timesS, double[] values) {

  /** Copies the arrays. */
  public PointReadings {
    if (timesS.length != values.length || values.length == 0) {
      throw new IllegalArgumentException(
          "%s times for %s readings of %s; expected as many, and one or more"
              .formatted(timesS.length, values.length, name));
    }
    timesS = timesS.clone();
    values = values.clone();
  }

  @Override
  public double[] timesS() {
    return timesS.clone();
  }

  @Override
  public double[] values() {
    return values.clone();
  }

  /**
   * The same readings less an amount.
   *
   * @param offset the amount, in their unit
   * @return readings with the same times
   */
  public PointReadings less(double offset) {
    double[] other = Arrays.stream(values).map(v -> v - offset).toArray();
    return new PointReadings(name, visit, reference, condition, timesS, other);
  }

  int size() {
    return values.length;
  }

  double middleS() {
    return Arrays.stream(timesS).average().orElse(0);
  }

  double mean() {
    return Arrays.stream(values).average().orElse(0);
  }

  double fromS() {
    return timesS[0];
  }

  double toS() {
    return timesS[timesS.length - 1];
  }
}
