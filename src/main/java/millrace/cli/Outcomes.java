package millrace.cli;

import java.util.List;
import millrace.evidence.Result;

/** Results as a table for a terminal. */
final class Outcomes {
  private Outcomes() {}

  static String table(List<Result> results) {
    StringBuilder table = new StringBuilder();
    for (Result r : results) {
      table.append(
          "%s %s %s %s %s%n"
              .formatted(
                  r.range().orElse(""),
                  r.quantity().inWords(),
                  r.at().all(),
                  r.outcome(),
                  r.judgement().map(j -> j.conformity().text()).orElse("")));
    }
    return table.toString();
  }
}
