// SPDX-License-Identifier: Apache-2.0
package millrace.planning.adaptive;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Task;

/** The purpose of a stay at a temperature. Immutable. */
final class StayContent {
  private final List<PlannedPoint> points;

  StayContent(List<PlannedPoint> points) {
    this.points = List.copyOf(points);
  }

  /** The purpose of a task in its stay. */
  private enum Part {
    /** Measures the unit at a load. */
    LOAD,
    /** Searches for the end of the plateau. */
    KNEE,
    /** Zero of a range. */
    ZERO,
    /** Supports a measurement. */
    SERVES,
    /** Gives a result that no limit asks for; never left out. */
    OWN
  }

  private static final class PartOfTask implements Task.Visitor<Part> {
    @Override
    public Part measure(Task.Measure task) {
      return Part.LOAD;
    }

    @Override
    public Part zero(Task.Zero task) {
      return Part.ZERO;
    }

    @Override
    public Part checkStandard(Task.CheckStandard task) {
      return Part.SERVES;
    }

    @Override
    public Part findKnee(Task.FindKnee task) {
      return Part.KNEE;
    }

    @Override
    public Part watch(Task.Watch task) {
      return Part.OWN;
    }

    @Override
    public Part sourceOff(Task.SourceOff task) {
      return Part.OWN;
    }

    @Override
    public Part knownResistor(Task.KnownResistor task) {
      return Part.OWN;
    }

    @Override
    public Part trialLap(Task.TrialLap task) {
      return Part.SERVES;
    }

    @Override
    public Part ask(Task.Ask task) {
      return Part.OWN;
    }

    @Override
    public Part waits(Task.Wait task) {
      return Part.SERVES;
    }
  }

  private static Part part(PlannedPoint p) {
    return p.task().accept(new PartOfTask());
  }

  /** Whether a point measures the unit at a load. */
  static boolean isLoad(PlannedPoint p) {
    return part(p) == Part.LOAD;
  }

  /**
   * Finds the points that can be left out. A range keeps all of its loads or none: a visit with
   * other loads than the earlier visits would look like a change of the unit.
   *
   * @param decided ranges that need no further measurement
   * @return points, in order; all points where nothing is left to measure
   */
  List<PlannedPoint> without(Set<String> decided) {
    Set<String> out = new LinkedHashSet<>();
    points.stream()
        .filter(p -> part(p) == Part.KNEE || part(p) == Part.LOAD)
        .filter(p -> p.conditions().range().filter(decided::contains).isPresent())
        .forEach(p -> out.add(p.key()));
    Set<String> left = rangesLeft(out);
    if (left.isEmpty()) {
      return points;
    }
    points.stream()
        .filter(p -> part(p) == Part.ZERO)
        .filter(p -> p.conditions().range().filter(decided::contains).isPresent())
        .filter(p -> !left.contains(p.conditions().range().get()))
        .forEach(p -> out.add(p.key()));
    return points.stream().filter(p -> out.contains(p.key())).toList();
  }

  /** Ranges in which something is left to measure; empty text for a point without a range. */
  private Set<String> rangesLeft(Set<String> out) {
    Set<String> left = new LinkedHashSet<>();
    for (PlannedPoint p : points) {
      boolean itself = part(p) != Part.ZERO && part(p) != Part.SERVES;
      if (itself && !out.contains(p.key())) {
        left.add(p.conditions().range().orElse(""));
      }
    }
    return left;
  }
}
