// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.SortedSet;
import java.util.TreeMap;
import java.util.TreeSet;
import millrace.assessment.Assessment;
import millrace.evidence.Point;
import millrace.evidence.PointState;
import millrace.logbook.PointCursor;
import millrace.logbook.RunReader;
import millrace.report.chart.PointsBySweepDirection;
import millrace.report.page.ReportAnchors.Group;

/**
 * What a page tells of the points of its run, from one walk over them that keeps those which are
 * listed: an import may have more points than memory holds.
 */
final class RunPointSummary {
  /** Most points listed; a run of weeks has more, and the logbook keeps them all. */
  static final int LISTED = 3000;

  /** Most points listed that are flagged or skipped. */
  static final int FALLEN_LISTED = 400;

  private final List<Point> first = new ArrayList<>();
  private final List<Point> fallen = new ArrayList<>();
  private final SortedMap<String, Integer> taken = new TreeMap<>();
  private final SortedMap<String, SortedSet<String>> settings = new TreeMap<>();
  private final List<Group> groups;
  private final PointsBySweepDirection directions;
  private long count;
  private long fallenCount;
  private long skipped;

  /**
   * Walks over the points of a run.
   *
   * @param assessment whose load sweeps are drawn
   */
  RunPointSummary(RunReader run, Assessment assessment) {
    directions =
        new PointsBySweepDirection(
            assessment.loads().stream().flatMap(l -> l.curve().points().stream()));
    Set<Group> met = new LinkedHashSet<>();
    try (PointCursor cursor = run.pointsOneByOne()) {
      for (Optional<Point> p = cursor.next(); p.isPresent(); p = cursor.next()) {
        met.add(Group.of(p.get()));
        add(p.get());
      }
    }
    groups = List.copyOf(met);
  }

  private void add(Point point) {
    if (count++ < LISTED) {
      first.add(point);
    }
    if (point.state() == PointState.SKIPPED) {
      skipped++;
    } else {
      taken.merge(point.kind().text(), 1, Integer::sum);
    }
    boolean fell = point.state() == PointState.FLAGGED || point.state() == PointState.SKIPPED;
    if (fell && fallenCount++ < FALLEN_LISTED) {
      fallen.add(point);
    }
    point
        .settings()
        .words()
        .forEach((name, value) -> settings.computeIfAbsent(name, n -> new TreeSet<>()).add(value));
    directions.add(point);
  }

  /** How many points the run has. */
  long count() {
    return count;
  }

  /** The first of them, in the order of taking, {@link #LISTED} at most. */
  List<Point> first() {
    return List.copyOf(first);
  }

  /** The first of those that are flagged or skipped, {@link #FALLEN_LISTED} at most. */
  List<Point> fallen() {
    return List.copyOf(fallen);
  }

  /** How many are flagged or skipped. */
  long fallenCount() {
    return fallenCount;
  }

  /** The number of points by kind, without those that were skipped. */
  SortedMap<String, Integer> taken() {
    return Collections.unmodifiableSortedMap(taken);
  }

  /** How many were skipped. */
  long skipped() {
    return skipped;
  }

  /** Settings as the instruments said them, with all values of each. */
  SortedMap<String, SortedSet<String>> settings() {
    return Collections.unmodifiableSortedMap(settings);
  }

  /** The groups of points, in the order in which each was met first. */
  List<Group> groups() {
    return groups;
  }

  /** How the points of load sweeps were come to. */
  PointsBySweepDirection directions() {
    return directions;
  }
}
