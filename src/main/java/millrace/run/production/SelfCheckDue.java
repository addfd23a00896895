// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.quantity.NumberText;

/** Decides when the bench must be checked before further boards. Single-threaded. */
final class SelfCheckDue {
  private final Optional<ProductionRules.SelfCheck> rule;
  private Optional<String> reason;
  private final List<Long> since = new ArrayList<>();

  SelfCheckDue(Optional<ProductionRules.SelfCheck> rule) {
    this.rule = rule;
    this.reason = rule.map(r -> "the bench was not checked yet in this shift.");
  }

  /** The reason why the bench is locked; empty if it is not. */
  Optional<OperatorScreen.Locked> now() {
    return reason.map(
        r ->
            new OperatorScreen.Locked(
                r,
                "Put in the reference unit %s and scan it."
                    .formatted(rule.map(ProductionRules.SelfCheck::reference).orElse(""))));
  }

  /** Notes a tested board. */
  void tested(long run) {
    since.add(run);
    rule.filter(r -> since.size() >= r.every())
        .ifPresent(
            r ->
                reason =
                    Optional.of(
                        "%s since the last check: the next is due."
                            .formatted(NumberText.counted(since.size(), "tested board"))));
  }

  /** Notes an event that requires a check. */
  void because(String why) {
    if (rule.isPresent()) {
      reason = Optional.of(why);
    }
  }

  /** Notes a check; returns the boards that a failed check puts in doubt. */
  List<Long> checked(BenchSelfCheck check) {
    if (!check.good()) {
      reason =
          Optional.of(
              "the last check of the bench failed (%s)."
                  .formatted(String.join("; ", check.findings())));
      return List.copyOf(since);
    }
    reason = Optional.empty();
    since.clear();
    return List.of();
  }
}
