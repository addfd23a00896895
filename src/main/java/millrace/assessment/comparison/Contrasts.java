// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import millrace.analysis.batch.Spread;
import millrace.analysis.batch.TwoBatches;
import millrace.assessment.comparison.Comparison.Contrast;

/** Each batch against all others together (Welch; methods.md 8). */
final class Contrasts {
  private Contrasts() {}

  static List<Contrast> of(List<Distribution> distributions, double coverage) {
    List<Contrast> contrasts = new ArrayList<>();
    for (Distribution d : distributions) {
      TreeSet<String> batches = new TreeSet<>();
      d.counting().forEach(e -> batches.add(batch(e)));
      if (batches.size() > 1) {
        batches.forEach(b -> contrast(d, b, coverage).ifPresent(contrasts::add));
      }
      if (batches.size() == 2) {
        // Of two, one against the other says everything.
        contrasts.removeIf(c -> c.what().equals(d.what()) && c.batch().equals(batches.last()));
      }
    }
    return contrasts;
  }

  static String batch(Distribution.Entry entry) {
    return batch(entry.run());
  }

  static String batch(Compared run) {
    return run.run().start().people().batch().orElse("no batch");
  }

  private static Optional<Contrast> contrast(Distribution d, String batch, double coverage) {
    double[] mine = values(d, batch, true);
    double[] others = values(d, batch, false);
    boolean enough =
        mine.length > 1 && others.length > 1 && Spread.of(mine).sd() + Spread.of(others).sd() > 0;
    return enough
        ? Optional.of(new Contrast(batch, d.what(), TwoBatches.of(mine, others, coverage)))
        : Optional.empty();
  }

  private static double[] values(Distribution d, String batch, boolean inside) {
    return d.counting().stream()
        .filter(e -> batch(e).equals(batch) == inside)
        .mapToDouble(e -> e.value().orElseThrow())
        .toArray();
  }
}
