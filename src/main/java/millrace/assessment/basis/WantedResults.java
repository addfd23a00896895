// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.basis;

import java.util.Collection;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.evidence.ResultQuantity;

/** Which quantities a run is to tell: a sequence says so, and the run keeps it as a fact. */
public final class WantedResults {
  private static final String FACT = "compute";

  private WantedResults() {}

  /**
   * The fact that a run keeps.
   *
   * @param wanted what it is to tell; empty for everything that its readings give
   * @return its name and value; empty for everything
   */
  public static Map<String, String> fact(Collection<ResultQuantity> wanted) {
    return wanted.isEmpty()
        ? Map.of()
        : Map.of(
            FACT,
            wanted.stream().map(ResultQuantity::key).sorted().collect(Collectors.joining(" ")));
  }

  /** What the sequence asked for; limits on anything else are not a matter of the run. */
  public static Set<ResultQuantity> of(Map<String, String> facts) {
    Set<ResultQuantity> wanted = EnumSet.noneOf(ResultQuantity.class);
    for (String key : facts.getOrDefault(FACT, "").split(" ")) {
      ResultQuantity.byKey(key).ifPresent(wanted::add);
    }
    return wanted.isEmpty() ? EnumSet.allOf(ResultQuantity.class) : wanted;
  }
}
