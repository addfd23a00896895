// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Result;
import millrace.logbook.RunReader;
import millrace.quantity.NumberText;

/** Counts what happened in many nights, and how far their results agree with undisturbed ones. */
final class NightFigures {
  /** From here on a difference is no chance any more: twice what covers 95 %. */
  private static final double NEVER = 2;

  private final Map<String, Integer> faults = new TreeMap<>();
  private final Map<String, Integer> sessions = new TreeMap<>();
  private final Map<String, Integer> outcomes = new TreeMap<>();
  private final Map<PointState, Integer> points = new TreeMap<>();
  private final List<String> misses = new ArrayList<>();
  private int nights;
  private int compared;
  private int inside;
  private int notComputed;
  private double worst;

  void night(CampaignNight night, RunReader reader) {
    nights++;
    night.struck().forEach(s -> faults.merge(s, 1, Integer::sum));
    night.ends().forEach(e -> sessions.merge(e, 1, Integer::sum));
    reader.points().forEach(p -> points.merge(p.state(), 1, Integer::sum));
    boolean flagged = reader.points().stream().anyMatch(p -> p.state() != PointState.COMPLETE);
    String how = night.ends().size() == 1 ? "at once" : "after resuming";
    outcomes.merge(
        "ended " + how + (flagged ? ", with flagged points" : ", whole"), 1, Integer::sum);
  }

  /**
   * Holds every result with an uncertainty against that of the undisturbed night; but not where
   * every point of a range is flagged, which says enough.
   */
  void agree(Assessment calm, RunReader disturbed, String name) {
    Map<String, ComputationOutcome.Value> expected = values(calm);
    Map<String, ComputationOutcome.Value> found = values(Assessor.assess(disturbed));
    Set<String> believed =
        disturbed.points().stream()
            .filter(p -> p.kind() == PointKind.MEASURE && p.state() == PointState.COMPLETE)
            .map(p -> p.conditions().range().orElseThrow())
            .collect(Collectors.toSet());
    found.keySet().removeIf(key -> believed.stream().noneMatch(r -> key.contains(" " + r + " ")));
    expected.forEach(
        (key, value) -> {
          if (found.containsKey(key)) {
            agree(value, found.get(key), name + " " + key);
          } else {
            notComputed++;
          }
        });
  }

  private void agree(ComputationOutcome.Value a, ComputationOutcome.Value b, String name) {
    double u =
        Math.hypot(
            a.uncertainty().orElseThrow().expanded(), b.uncertainty().orElseThrow().expanded());
    double ratio = u == 0 ? 0 : Math.abs(a.value() - b.value()) / u;
    compared++;
    inside += ratio <= 1 ? 1 : 0;
    worst = Math.max(worst, ratio);
    if (ratio > NEVER) {
      misses.add("%s: %s instead of %s, U %s".formatted(name, b.value(), a.value(), u));
    }
  }

  private static Map<String, ComputationOutcome.Value> values(Assessment assessment) {
    Map<String, ComputationOutcome.Value> values = new HashMap<>();
    for (Result r : assessment.results()) {
      if (r.outcome() instanceof ComputationOutcome.Value v && v.uncertainty().isPresent()) {
        values.put("%s %s %s".formatted(r.quantity().key(), r.range().orElse(""), r.at()), v);
      }
    }
    return values;
  }

  List<String> misses() {
    return misses;
  }

  double insideShare() {
    return compared == 0 ? 1 : (double) inside / compared;
  }

  /** For people. */
  List<String> lines() {
    List<String> lines = new ArrayList<>();
    lines.add("%s nights, %s faults".formatted(nights, sum(faults)));
    lines.add("by kind: " + faults);
    lines.add("outcomes: " + outcomes);
    lines.add("%s sessions: %s".formatted(sum(sessions), sessions));
    lines.add("points: " + points);
    lines.add(
        "results against the undisturbed night: %s, %s %% within their combined U, the farthest %s of it; %s not computed where points were flagged"
            .formatted(
                compared,
                NumberText.fixed(100 * insideShare(), 2),
                NumberText.fixed(worst, 2),
                notComputed));
    return lines;
  }

  private static int sum(Map<String, Integer> counts) {
    return counts.values().stream().mapToInt(Integer::intValue).sum();
  }
}
