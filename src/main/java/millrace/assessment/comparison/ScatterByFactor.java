// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.analysis.variance.VarianceComponents;
import millrace.assessment.comparison.BatchDistribution.Entry;

/**
 * How much of the scatter of a quantity each factor brings (methods.md 8.2). A factor of one level,
 * and one with a level for each run, cannot be told from what is the same everywhere, and from unit
 * to unit; factors that always change together are one.
 */
final class ScatterByFactor {
  private static final String REST = "unit to unit, with the measurement";

  private final double coverage;
  private final Map<String, ComparisonFactor> kept = new LinkedHashMap<>();
  private final List<String> notes = new ArrayList<>();

  ScatterByFactor(Comparison comparison, List<ComparisonFactor> by) {
    coverage = comparison.coverage();
    List<ComparedRun> runs = comparison.runs();
    Map<List<Integer>, String> partitions = new LinkedHashMap<>();
    for (ComparisonFactor factor : by) {
      int[] levels = levels(runs.stream().map(r -> r.group(factor)).toList());
      int count = count(levels);
      if (count < 2) {
        notes.add("all runs are of one %s, which explains no scatter".formatted(factor.text()));
      } else if (count == runs.size()) {
        notes.add(
            "each run is of another %s, which cannot be told from unit to unit"
                .formatted(factor.text()));
      } else {
        List<Integer> partition = Arrays.stream(levels).boxed().toList();
        String twin = partitions.get(partition);
        String name = twin == null ? factor.text() : twin + " with " + factor.text();
        partitions.put(partition, name);
        kept.put(name, factor);
        if (twin != null) {
          kept.remove(twin);
          notes.add(
              "%s and %s always change together, so their parts cannot be told apart"
                  .formatted(twin, factor.text()));
        }
      }
    }
  }

  /** Why a factor explains nothing, or not alone. */
  List<String> notes() {
    return notes;
  }

  /** The sources of the scatter of one quantity, the largest first; empty if none can be told. */
  List<ScatterSource> of(List<Entry> entries) {
    List<String> names = new ArrayList<>();
    List<int[]> all = new ArrayList<>();
    kept.forEach(
        (name, factor) -> {
          int[] levels = levels(entries.stream().map(e -> e.run().group(factor)).toList());
          int count = count(levels);
          if (count > 1 && count < entries.size()) {
            names.add(name);
            all.add(levels);
          }
        });
    double[] values = entries.stream().mapToDouble(e -> e.value().orElseThrow()).toArray();
    int together = all.stream().mapToInt(ScatterByFactor::count).sum();
    boolean equal = Arrays.stream(values).distinct().count() < 2;
    if (names.isEmpty() || equal || together > VarianceComponents.MOST_LEVELS) {
      return List.of();
    }
    names.add(REST);
    return VarianceComponents.of(values, all, coverage)
        .map(found -> sources(names, found))
        .orElse(List.of());
  }

  private static List<ScatterSource> sources(List<String> names, VarianceComponents found) {
    List<VarianceComponents.Component> components = new ArrayList<>(found.factors());
    components.add(found.residual());
    double sum = components.stream().mapToDouble(c -> c.sd() * c.sd()).sum();
    List<ScatterSource> sources = new ArrayList<>();
    for (int i = 0; i < names.size(); i++) {
      double sd = components.get(i).sd();
      sources.add(new ScatterSource(names.get(i), components.get(i), sd * sd / sum));
    }
    sources.sort(Comparator.comparingDouble(ScatterSource::share).reversed());
    return sources;
  }

  /** Names as numbers from 0, in the order of coming. */
  private static int[] levels(List<String> names) {
    Map<String, Integer> numbers = new HashMap<>();
    return names.stream()
        .map(name -> numbers.computeIfAbsent(name, n -> numbers.size()))
        .mapToInt(Integer::intValue)
        .toArray();
  }

  private static int count(int[] levels) {
    return Arrays.stream(levels).max().orElse(-1) + 1;
  }
}
