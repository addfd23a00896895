// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Names points by their conditions, so that a name stays the same when other points come or go.
 * What is done again under the same name gets {@code #2} and so on. Single-threaded.
 */
final class PointKeys {
  private final Map<String, Integer> named = new HashMap<>();
  private final Map<String, Integer> visited = new HashMap<>();

  /**
   * The name of a point.
   *
   * @param text unique within the plan
   * @param visit how many points before had the same conditions and task, whichever stay
   */
  record Key(String text, int visit) {}

  Key next(StepScope scope, String word) {
    List<String> words = new ArrayList<>(scope.keys());
    if (!word.isEmpty()) {
      words.add(word);
    }
    String bare = String.join("/", words);
    int before = named.merge(bare, 1, Integer::sum) - 1;
    int visit = visited.merge(scope.conditions() + word, 1, Integer::sum) - 1;
    return new Key(before == 0 ? bare : bare + " #" + (before + 1), visit);
  }
}
