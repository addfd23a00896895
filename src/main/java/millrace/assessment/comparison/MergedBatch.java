// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.logbook.BatchJudgedValue;

/**
 * A batch that several benches test, from the logbook of one and from a store that others publish
 * to. Stateless.
 */
public final class MergedBatch {
  private static final Comparator<First> EARLIER =
      Comparator.comparing(First::startedAt).thenComparing(First::run);

  private MergedBatch() {}

  /** The first run of a unit. */
  private record First(Instant startedAt, UUID run) {}

  /**
   * The judged values of a batch, of each unit the first run wherever it was. A run that is in both
   * counts as the logbook has it.
   *
   * @param own as the logbook has the batch, in the order of time
   * @param stored as the store has it, in the order of time
   * @return in the order of time
   */
  public static List<BatchJudgedValue> of(
      List<BatchJudgedValue> own, List<BatchJudgedValue> stored) {
    if (stored.isEmpty()) {
      return own;
    }
    Map<String, First> first = new HashMap<>();
    Stream.concat(own.stream(), stored.stream())
        .forEach(
            v ->
                first.merge(
                    v.unit(),
                    new First(v.startedAt(), v.run()),
                    (a, b) -> EARLIER.compare(a, b) <= 0 ? a : b));
    Set<UUID> mine = own.stream().map(BatchJudgedValue::run).collect(Collectors.toSet());
    List<BatchJudgedValue> merged = new ArrayList<>();
    own.stream().filter(v -> isOf(first, v)).forEach(merged::add);
    stored.stream().filter(v -> isOf(first, v) && !mine.contains(v.run())).forEach(merged::add);
    merged.sort(Comparator.comparing(BatchJudgedValue::startedAt));
    return merged;
  }

  private static boolean isOf(Map<String, First> first, BatchJudgedValue value) {
    return first.get(value.unit()).run().equals(value.run());
  }
}
