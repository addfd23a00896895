// SPDX-License-Identifier: Apache-2.0
package millrace.planning.boards;

import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A board test: the counts of each range, and the order in which ranges are measured. It has at
 * least one zero and three different loads for each range. Immutable.
 *
 * @param scope the scope of the test
 * @param steps the step of every lever by range, from 0 for the most; ranges in the order of
 *     measuring
 */
public record BoardDesign(BoardScope scope, Map<String, Map<BoardLever, Integer>> steps) {
  /** Half of the loads at each end, alternating, so that a drift is distinguished from a slope. */
  private static final Map<Integer, String> WALKS =
      Map.of(9, "0TMT0TMT0", 7, "0T0MT0T", 5, "0TMT0", 4, "0TM0");

  /** Copies the maps; order kept. */
  public BoardDesign {
    Map<String, Map<BoardLever, Integer>> copy = new LinkedHashMap<>();
    steps.forEach((range, own) -> copy.put(range, Collections.unmodifiableMap(new EnumMap<>(own))));
    steps = Collections.unmodifiableMap(copy);
  }

  /**
   * The test with the most of everything.
   *
   * @param scope the scope of the test
   * @return the design, ranges in the order of the datasheet
   */
  static BoardDesign richest(BoardScope scope) {
    Map<BoardLever, Integer> most = new EnumMap<>(BoardLever.class);
    for (BoardLever lever : BoardLever.values()) {
      most.put(lever, 0);
    }
    Map<String, Map<BoardLever, Integer>> steps = new LinkedHashMap<>();
    scope.names().forEach(range -> steps.put(range, most));
    return new BoardDesign(scope, steps);
  }

  /** The test with one step less of a lever in some ranges; empty where none has less. */
  Optional<BoardDesign> less(BoardLever lever, List<String> ranges) {
    Map<String, Map<BoardLever, Integer>> other = new LinkedHashMap<>(steps);
    boolean moved = false;
    for (String range : ranges) {
      int step = steps.get(range).get(lever) + 1;
      if (step < lever.amounts().size()) {
        Map<BoardLever, Integer> own = new EnumMap<>(steps.get(range));
        own.put(lever, step);
        other.put(range, own);
        moved = true;
      }
    }
    return moved ? Optional.of(new BoardDesign(scope, other)) : Optional.empty();
  }

  /** The same test with its ranges in another order. */
  BoardDesign inOrder(List<String> ranges) {
    Map<String, Map<BoardLever, Integer>> other = new LinkedHashMap<>();
    ranges.forEach(range -> other.put(range, steps.get(range)));
    return new BoardDesign(scope, other);
  }

  /**
   * The count of a lever in a range.
   *
   * @param range the name of the range
   * @param lever the lever
   * @return a count
   */
  public int amount(String range, BoardLever lever) {
    return lever.amounts().get(steps.get(range).get(lever));
  }

  /**
   * The loads of one pass over a range, in the order of measuring.
   *
   * @param range the name of the range
   * @return % of the compliance voltage
   */
  public List<Double> loadsPercent(String range) {
    double top = scope.range(range).topPercent();
    List<Double> loads = new ArrayList<>();
    for (char place : WALKS.get(amount(range, BoardLever.LOADS)).toCharArray()) {
      loads.add(place == '0' ? 0.0 : place == 'M' ? top / 2 : top);
    }
    return loads;
  }

  /** Groups of adjacent ranges that are measured alike. */
  List<List<String>> alike() {
    List<List<String>> groups = new ArrayList<>();
    for (String range : steps.keySet()) {
      int last = groups.size() - 1;
      if (last >= 0 && isAlike(groups.get(last).get(0), range)) {
        groups.get(last).add(range);
      } else {
        groups.add(new ArrayList<>(List.of(range)));
      }
    }
    return groups;
  }

  private boolean isAlike(String one, String other) {
    BoardScope.LoadedRange a = scope.range(one);
    BoardScope.LoadedRange b = scope.range(other);
    return steps.get(one).equals(steps.get(other))
        && a.topPercent() == b.topPercent()
        && a.endsPercent().equals(b.endsPercent());
  }
}
