// SPDX-License-Identifier: Apache-2.0
package millrace.analysis.design;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.analysis.design.DesignDeviation.Kind;

/**
 * Every way in which a unit can deviate, in a fixed order, each found by what deviates and of which
 * part. Single-threaded while it grows.
 */
final class DeviationIndex {
  private final List<DesignDeviation> all = new ArrayList<>();
  private final Map<String, Integer> index = new HashMap<>();

  /** Adds one; of two of the same part and kind the wider counts. */
  void add(Kind kind, String of, double halfWidth) {
    Integer known = index.putIfAbsent(kind + " " + of, all.size());
    if (known == null) {
      all.add(new DesignDeviation(kind, of, halfWidth));
    } else if (all.get(known).halfWidth() < halfWidth) {
      all.set(known, new DesignDeviation(kind, of, halfWidth));
    }
  }

  List<DesignDeviation> all() {
    return List.copyOf(all);
  }

  /** The place of a deviation; -1 if there is no such thing. */
  int indexOf(Kind kind, String of) {
    return index.getOrDefault(kind + " " + of, -1);
  }

  /** The same, for a part that may be absent. */
  int indexOf(Kind kind, Optional<? extends DesignPart> of) {
    return of.map(p -> indexOf(kind, p.name())).orElse(-1);
  }
}
