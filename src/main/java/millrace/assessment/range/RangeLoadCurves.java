// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;
import java.util.function.Supplier;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;

/**
 * The sweeps of a range with their decisions. The loads of the plateau and its curvature are
 * decided once, from the readings. Trials keep these decisions, since their points carry the noise
 * twice and would lead to different ones (methods.md 2.5). A sweep that is asked for again, by
 * itself and as one of its temperature, is computed once. Single-threaded.
 */
final class RangeLoadCurves {
  private static final int FINISHED = -1;

  /** An odd number whose bits look random: 2^64 over the golden ratio. */
  private static final long SPREAD = 0x9e3779b97f4a7c15L;

  /**
   * A sweep on its way: the same points may stand for it before and after a search was added.
   *
   * @param points a number that tells sets of points apart, whatever their order
   * @param count how many they are
   * @param knees how many points of a search are beside them
   * @param round of adding a search
   */
  private record Sweep(long points, int count, int knees, int round) {}

  /**
   * A sweep of one stay with its search.
   *
   * @param knees how many points of the search are used: all or none
   */
  private record Stay(int number, int knees, LoadSweepRequest question) {}

  private final Map<Sweep, LoadCurve> decided;
  private final Map<Sweep, LoadCurve> studied = new HashMap<>();
  private final Map<Stay, List<LoadPoint>> stays = new HashMap<>();

  /** By the list itself: comparing points would cost as much as a fit through them. */
  private final IdentityHashMap<List<LoadPoint>, Map<LoadSweepRequest, Optional<LoadCurve>>>
      finished = new IdentityHashMap<>();

  private RangeLoadCurves(Map<Sweep, LoadCurve> decided) {
    this.decided = decided;
  }

  /** Nothing is decided yet. */
  static RangeLoadCurves fresh() {
    return new RangeLoadCurves(Map.of());
  }

  /** The decisions are made. */
  RangeLoadCurves kept() {
    return new RangeLoadCurves(studied);
  }

  /** The points of a stay with its search, computed once. */
  List<LoadPoint> ofStay(
      int stay, int knees, LoadSweepRequest question, Supplier<List<LoadPoint>> computed) {
    return stays.computeIfAbsent(new Stay(stay, knees, question), s -> computed.get());
  }

  /** The curve of a sweep; empty if its points make no line. */
  Optional<LoadCurve> of(List<LoadPoint> points, LoadSweepRequest question) {
    Map<LoadSweepRequest, Optional<LoadCurve>> asked =
        finished.computeIfAbsent(points, p -> new HashMap<>());
    return asked.computeIfAbsent(question, q -> of(points, q, FINISHED));
  }

  /** The curve of a sweep in one round of adding a search to it. */
  Optional<LoadCurve> of(List<LoadPoint> points, LoadSweepRequest question, int round) {
    Sweep sweep = sweep(points, round);
    LoadCurve before = decided.get(sweep);
    Optional<LoadCurve> curve =
        before != null
            ? Optional.of(before.again(points, question))
            : LoadCurve.of(points, question);
    curve.ifPresent(c -> studied.put(sweep, c));
    return curve;
  }

  /**
   * In a trial the line of a sweep in one round of adding a search to it: which points it goes
   * through is decided. Empty where nothing is.
   *
   * @param points the sweep without the search
   * @param knees how many points of the search were beside it
   */
  Optional<DoubleUnaryOperator> lineAgain(List<LoadPoint> points, int knees, int round) {
    Sweep alone = sweep(points, round);
    Sweep beside = new Sweep(alone.points, alone.count, knees, round);
    return Optional.ofNullable(decided.get(beside)).flatMap(c -> c.lineAgain(points));
  }

  private static Sweep sweep(List<LoadPoint> points, int round) {
    long sum = 0;
    int count = 0;
    for (LoadPoint p : points) {
      if (!p.kneeOnly()) {
        long spread = (p.key().hashCode() + 1L) * SPREAD;
        sum += spread * (spread >>> 32 | 1);
        count++;
      }
    }
    return new Sweep(sum, count, points.size() - count, round);
  }
}
