// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.tally;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.analysis.reduction.ReadingStatistics;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;

/**
 * The sums of the readings of one point.
 *
 * @param point the point
 * @param signals statistics of each signal's numbers without suspect ones; a signal without numbers
 *     is absent
 * @param withSuspects the same with suspect numbers, where there are any
 * @param zero the zero to subtract from the current, A; empty if there is none
 * @param stated the stated errors of each signal; imports only
 * @param timeS mean time of its current readings from the start of the run, s
 */
public record PointReadingTally(
    Point point,
    Map<MeasuredSignal, ReadingStatistics> signals,
    Map<MeasuredSignal, ReadingStatistics> withSuspects,
    OptionalDouble zero,
    Map<MeasuredSignal, StatedErrors> stated,
    double timeS) {

  /** Copies the maps. */
  public PointReadingTally {
    signals = copy(signals);
    withSuspects = copy(withSuspects);
    stated = copy(stated);
  }

  private static <V> Map<MeasuredSignal, V> copy(Map<MeasuredSignal, V> map) {
    Map<MeasuredSignal, V> copy = new EnumMap<>(MeasuredSignal.class);
    copy.putAll(map);
    return copy;
  }

  /** Statistics of the readings of a signal; empty if there is no number. */
  public Optional<ReadingStatistics> of(MeasuredSignal signal) {
    return Optional.ofNullable(signals.get(signal));
  }

  /** The mean of a signal; empty if there is no number. */
  public OptionalDouble mean(MeasuredSignal signal) {
    ReadingStatistics found = signals.get(signal);
    return found == null ? OptionalDouble.empty() : OptionalDouble.of(found.mean());
  }

  /** A name that no other point of the run has. */
  public String name() {
    return PointName.of(point);
  }

  /**
   * The stated errors of imported readings of one point.
   *
   * @param u point-wise standard uncertainty of the mean; empty if not stated
   * @param shape the stated distribution of the error and degrees of freedom of u
   * @param common standard uncertainty shared within the group; 0 if not stated
   * @param commonRelative the same as a ratio; 0 if not stated
   * @param group the group; empty text if not stated
   * @param meterRange the meter range; empty text if not stated
   */
  public record StatedErrors(
      OptionalDouble u,
      Shape shape,
      double common,
      double commonRelative,
      String group,
      String meterRange) {}

  /**
   * The stated shape of a point-wise uncertainty.
   *
   * @param distribution distribution of the error
   * @param degreesOfFreedom of the uncertainty; empty for infinitely many
   */
  public record Shape(ErrorDistribution distribution, OptionalDouble degreesOfFreedom) {
    static final Shape NORMAL = new Shape(ErrorDistribution.NORMAL, OptionalDouble.empty());

    /** The shape for the mean of several readings: normal, with their least degrees of freedom. */
    Shape ofMean() {
      return new Shape(ErrorDistribution.NORMAL, degreesOfFreedom);
    }
  }
}
