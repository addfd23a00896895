// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import millrace.sequence.Plan.PlannedPoint;

/** About how many readings a point of a plan comes to, for the room that they take. */
public final class ReadingCount implements Task.Visitor<Double> {
  /** Voltage beside each current, and what is around it once per point. */
  private static final int OF_SURROUNDINGS = 6;

  /** A search for the knee stops at about as many loads, a trial lap at as many in each range. */
  private static final int STOPS = 8;

  /** As fast as a meter goes on by itself, s. */
  private static final double FASTEST_S = 0.2;

  private final int asked;

  private ReadingCount(int asked) {
    this.asked = asked;
  }

  /**
   * About how many readings a point comes to.
   *
   * @param point a point of a plan
   * @return 0 or more
   */
  public static double of(PlannedPoint point) {
    return point.task().accept(new ReadingCount(point.rules().readings().count()));
  }

  private double once() {
    return 2.0 * asked + OF_SURROUNDINGS;
  }

  @Override
  public Double measure(Task.Measure task) {
    return once();
  }

  @Override
  public Double zero(Task.Zero task) {
    return once();
  }

  @Override
  public Double checkStandard(Task.CheckStandard task) {
    return 2 * once(); // with a zero of its own
  }

  @Override
  public Double findKnee(Task.FindKnee task) {
    return STOPS * once();
  }

  @Override
  public Double watch(Task.Watch task) {
    double most = task.forS().orElse(task.withinS().orElse(0.0) / 2);
    return most / Math.max(task.everyS(), FASTEST_S);
  }

  @Override
  public Double sourceOff(Task.SourceOff task) {
    return once();
  }

  @Override
  public Double knownResistor(Task.KnownResistor task) {
    return once();
  }

  @Override
  public Double trialLap(Task.TrialLap task) {
    return STOPS * once();
  }

  @Override
  public Double ask(Task.Ask task) {
    return 0.0;
  }

  @Override
  public Double waits(Task.Wait task) {
    return 0.0;
  }
}
