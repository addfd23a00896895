// SPDX-License-Identifier: Apache-2.0
package millrace.planning.cause;

import java.util.List;
import java.util.Optional;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.CauseStudy;
import millrace.analysis.causes.ErrorCauseDiagnosis;
import millrace.analysis.causes.FurtherMeasurement;

/**
 * What to measure so that causes are separated.
 *
 * @param diagnosis the causes as they are known now
 * @param identified the likeliest cause, if it is separated from every other
 * @param rivals names of the causes that are not separated from one another; empty: nothing is
 *     needed
 * @param chosen what to measure; empty where nothing is needed, or nothing helps
 * @param alone each measurement that separates any of them by itself, the cheapest first
 * @param beyond what would separate some of them, and cannot be done on this bench
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
   * The measurements that are proposed.
   *
   * @param measurements all of them, as the bench can make them
   * @param sequence the text of their file
   * @param seconds how long it takes, s, as preview prints it
   * @param gain what would be known after it, from drawn cases
   * @param together causes that it leaves together, pair by pair, in words
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
   * @param words what to do
   * @param seconds how long it takes by itself, s
   * @param pairs how many pairs of causes it separates
   * @param of how many there are
   */
  public record Alone(String words, double seconds, int pairs, int of) {}
}
