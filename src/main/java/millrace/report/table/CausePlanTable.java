// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.analysis.causes.Cause;
import millrace.analysis.causes.CauseStudy;
import millrace.analysis.causes.FurtherMeasurement;
import millrace.planning.cause.CausePlan;
import millrace.quantity.NumberText;
import millrace.quantity.TimeSpanSeconds;
import millrace.report.words.ResultFigures;

/**
 * Plan of a measurement that separates causes, for a terminal: the answer, the reason, then the
 * rest.
 */
public final class CausePlanTable {
  private static final int DIGITS = 2;
  private static final int MOST_ALONE = 8;

  private final CausePlan plan;

  /**
   * The table of a plan.
   *
   * @param plan the plan
   */
  public CausePlanTable(CausePlan plan) {
    this.plan = plan;
  }

  /**
   * The answer and its basis.
   *
   * @return lines
   */
  public List<String> lines() {
    List<String> lines = new ArrayList<>();
    plan.identified().ifPresent(cause -> lines.add(identified(cause)));
    if (plan.rivals().isEmpty()) {
      lines.add("Nothing more needs to be measured for it.");
    } else {
      plan.chosen().ifPresentOrElse(c -> chosen(lines, c), () -> nothing(lines));
      lines.add(plan.identified().isPresent() ? "Beside it, not separated:" : "Not separated yet:");
      plan.rivals().forEach(r -> lines.add("  " + rival(r)));
      alone(lines);
      beyond(lines);
    }
    lines.add("");
    plan.diagnosis().notes().forEach(note -> lines.add("Note: " + note + "."));
    return lines;
  }

  private static String identified(Cause cause) {
    String sure = percent(cause.probability());
    return cause.of().isEmpty()
        ? "Nothing is abnormal, with a probability of %s.".formatted(sure)
        : "The cause is identified: %s%s, with a probability of %s."
            .formatted(cause.name(), size(cause), sure);
  }

  private static String size(Cause cause) {
    return cause
        .size()
        .map(s -> ", " + ResultFigures.pair(s.value(), s.expandedUncertainty(), s.unit()))
        .orElse("");
  }

  private static String percent(double share) {
    return NumberText.fixed(100 * share, 0) + " %";
  }

  private static String span(double seconds) {
    Duration span = TimeSpanSeconds.ofSeconds(Math.max(60, Math.round(seconds / 60) * 60.0));
    return TimeSpanSeconds.print(span, DIGITS);
  }

  private void chosen(List<String> lines, CausePlan.Chosen chosen) {
    int causes = plan.rivals().size();
    lines.add(
        chosen.together().isEmpty()
            ? "%s of measuring separate %s causes%s:"
                .formatted(span(chosen.seconds()), causes, beside())
            : "%s of measuring separate some of %s causes%s:"
                .formatted(span(chosen.seconds()), causes, beside()));
    for (FurtherMeasurement m : chosen.measurements()) {
      lines.add("  " + m.words());
    }
    if (!chosen.together().isEmpty()) {
      lines.add("It leaves together:");
      chosen.together().forEach(pair -> lines.add("  " + pair));
    }
    CauseStudy.Gain gain = chosen.gain();
    lines.add(
        "Tried on %s drawn cases: the right cause stands alone in %s of them, and its probability"
                .formatted(gain.drawn(), gain.right())
            + " goes from %s to %s in the mean."
                .formatted(percent(gain.before()), percent(gain.after())));
    lines.add("");
  }

  private String beside() {
    return plan.identified().isPresent() ? " that may stand beside it" : "";
  }

  private void nothing(List<String> lines) {
    lines.add(
        plan.beyond().isEmpty()
            ? "Nothing that can be measured separates these causes: they would all show the same."
            : "Nothing that can be measured on this bench separates these causes.");
    lines.add("");
  }

  private String rival(String name) {
    Optional<Cause> cause =
        plan.diagnosis().causes().stream().filter(c -> c.name().equals(name)).findFirst();
    return cause
        .map(c -> "%s%s: %s".formatted(name, size(c), percent(c.probability())))
        .orElse(name);
  }

  private void alone(List<String> lines) {
    if (plan.alone().isEmpty()) {
      return;
    }
    lines.add("What separates any of them by itself, the shortest first:");
    for (CausePlan.Alone a : plan.alone().stream().limit(MOST_ALONE).toList()) {
      lines.add(
          "  %s: %s, %s of %s pairs".formatted(a.words(), span(a.seconds()), a.pairs(), a.of()));
    }
    int more = plan.alone().size() - MOST_ALONE;
    if (more > 0) {
      lines.add("  and " + more + " more (--json names them)");
    }
  }

  private void beyond(List<String> lines) {
    if (!plan.beyond().isEmpty()) {
      lines.add(
          plan.beyond().stream()
              .collect(Collectors.joining("; ", "Beyond this bench, and of use: ", ".")));
    }
  }
}
