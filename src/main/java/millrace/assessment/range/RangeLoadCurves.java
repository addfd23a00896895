// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.range;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.analysis.load.LoadCurve;
import millrace.analysis.load.LoadPoint;
import millrace.analysis.load.LoadSweepRequest;

/**
 * The sweeps of a range with their decisions. The loads of the plateau and its curvature are
 * decided once, from the readings. Trials keep these decisions, since their points carry the noise
 * twice and would lead to different ones (methods.md 2.5). Single-threaded.
 */
final class RangeLoadCurves {
  private final Map<Set<String>, LoadCurve> decided;
  private final Map<Set<String>, LoadCurve> studied = new HashMap<>();

  private RangeLoadCurves(Map<Set<String>, LoadCurve> decided) {
    this.decided = decided;
  }

  /** Nothing is decided yet. */
  static RangeLoadCurves fresh() {
    return new RangeLoadCurves(Map.of());
  }

  /** The decisions are made. */
  RangeLoadCurves kept() {
    return new RangeLoadCurves(Map.copyOf(studied));
  }

  /** The curve of a sweep; empty if its points make no line. */
  Optional<LoadCurve> of(List<LoadPoint> points, LoadSweepRequest question) {
    Set<String> keys =
        points.stream()
            .filter(p -> !p.kneeOnly())
            .map(LoadPoint::key)
            .collect(Collectors.toUnmodifiableSet());
    Optional<LoadCurve> curve =
        decided.containsKey(keys)
            ? Optional.of(decided.get(keys).again(points, question))
            : LoadCurve.of(points, question);
    curve.ifPresent(c -> studied.put(keys, c));
    return curve;
  }
}
