// SPDX-License-Identifier: Apache-2.0
package millrace.planning.cause;

import java.util.List;
import java.util.Optional;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.CauseStudy;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.analysis.causes.FurtherMeasurement;

/**
 * A plan of measurements that separate causes.
 *
 * @param diagnosis the present diagnosis
 * @param identified the most likely cause, if it is separated from every other
 * @param rivals names of the causes that are not separated; empty: nothing is needed
 * @param chosen the proposed measurements; empty where nothing is needed, or nothing helps
 * @param alone each measurement that separates some of them by itself, the cheapest first
 * @param beyond measurements that would separate some of them and are not possible on this bench
 */
public record CausePlan(
    ErrorCauseDiagnosis diagnosis,
    Optional<Cause> identified,
    List<String> rivals,
    Optional<Chosen> chosen,
    List<Alone> alone,
    List<String> beyond) {
  /** Copies the lists. */
  public CausePlan {
    rivals = List.copyOf(rivals);
    alone = List.copyOf(alone);
    beyond = List.copyOf(beyond);
  }

  /**
   * The proposed measurements.
   *
   * @param measurements all of them, as the bench can make them
   * @param sequence the text of their file
   * @param seconds the time of the file as preview states it, s
   * @param gain the knowledge after it, from drawn cases
   * @param together the pairs of causes that it does not separate, in words
   */
  public record Chosen(
      List<FurtherMeasurement> measurements,
      String sequence,
      double seconds,
      CauseStudy.Gain gain,
      List<String> together) {
    /** Copies the lists. */
    public Chosen {
      measurements = List.copyOf(measurements);
      together = List.copyOf(together);
    }
  }

  /**
   * One measurement.
   *
   * @param words the measurement in words
   * @param seconds its time by itself, s
   * @param pairs the number of pairs of causes that it separates
   * @param of the number of all pairs
   */
  public record Alone(String words, double seconds, int pairs, int of) {}
}
