// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.benches;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.temporal.TemporalAdjusters;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.logbook.RunSummary;

/**
 * The checks of one bench by one reference, in the order of time.
 *
 * @param bench name of the bench
 * @param setUp fixture and cables of a reference unit, in words, or the range of the meter in which
 *     a check standard was read; empty text if nothing was stated
 * @param by what it was checked by
 * @param reference serial number of the reference unit, or name of the check standard
 * @param checks at least one
 * @param spans when the bench was out, in the order of time; empty if no check was out
 */
public record BenchHistory(
    String bench,
    String setUp,
    Reference by,
    String reference,
    List<Check> checks,
    List<Span> spans) {
  /** What a bench is checked by. */
  public enum Reference {
    /** A unit that is tested as boards are. */
    REFERENCE_UNIT("reference unit"),
    /** A stable source that runs read beside their unit. */
    CHECK_STANDARD("check standard");

    private final String text;

    Reference(String text) {
      this.text = text;
    }

    /**
     * The words for it.
     *
     * @return such as {@code check standard}
     */
    public String text() {
      return text;
    }
  }

  /** Copies the lists. */
  public BenchHistory {
    checks = List.copyOf(checks);
    spans = List.copyOf(spans);
  }

  /**
   * One check.
   *
   * @param run its run
   * @param findings what was beyond its limits, sentences without their full stops; empty for a
   *     good check
   * @param share the largest distance of a quantity from the centre of its chart over what the
   *     chart allows; empty before the chart applies
   * @param ppm what the meter read of a check standard above what that drives, ppm; empty for a
   *     reference unit
   * @param open why nothing is known of the bench from it, a sentence without its full stop; empty
   *     if it was held against something
   */
  public record Check(
      RunSummary run,
      List<String> findings,
      OptionalDouble share,
      OptionalDouble ppm,
      Optional<String> open) {
    /** Copies the list. */
    public Check {
      findings = List.copyOf(findings);
    }

    /**
     * Tells whether the bench was good.
     *
     * @return true if it was held against something and nothing was found
     */
    public boolean good() {
      return findings.isEmpty() && open.isEmpty();
    }

    /**
     * Tells whether the bench was out.
     *
     * @return true with findings
     */
    public boolean out() {
      return !findings.isEmpty();
    }
  }

  /**
   * The checks of a week.
   *
   * @param monday its first day, where the bench is
   * @param checks how many, 1 or more
   * @param out how many of them were out
   * @param share the largest share of what the chart allows; empty where it did not apply yet
   * @param ppm the mean of a check standard, ppm; empty for a reference unit
   */
  public record Week(
      LocalDate monday, int checks, int out, OptionalDouble share, OptionalDouble ppm) {
    private static Week of(LocalDate monday, List<Check> checks) {
      return new Week(
          monday,
          checks.size(),
          (int) checks.stream().filter(Check::out).count(),
          checks.stream().flatMapToDouble(c -> c.share().stream()).max(),
          checks.stream().flatMapToDouble(c -> c.ppm().stream()).average());
    }
  }

  /**
   * The checks by weeks, from Monday to Sunday (ISO 8601).
   *
   * @return weeks with a check, in the order of time
   */
  public List<Week> weeks() {
    Map<LocalDate, List<Check>> byWeek = new LinkedHashMap<>();
    for (Check check : checks) {
      LocalDate day =
          check.run().start().startedAt().atOffset(check.run().start().offset()).toLocalDate();
      byWeek
          .computeIfAbsent(
              day.with(TemporalAdjusters.previousOrSame(DayOfWeek.MONDAY)), w -> new ArrayList<>())
          .add(check);
    }
    return byWeek.entrySet().stream().map(e -> Week.of(e.getKey(), e.getValue())).toList();
  }

  /**
   * A time in which the bench was out, or may have been.
   *
   * @param lastGood the last good check before; empty if there was none
   * @param firstOut the first check that was out
   * @param nextGood the first good check after; empty if the bench is still out
   * @param recall runs of units on the bench after the last good check and before the next
   */
  public record Span(
      Optional<Check> lastGood, Check firstOut, Optional<Check> nextGood, List<RunSummary> recall) {
    /** Copies the list. */
    public Span {
      recall = List.copyOf(recall);
    }
  }

  /**
   * Tells whether the bench is out: no good check came after the last that was out.
   *
   * @return true if so
   */
  public boolean isOut() {
    return !spans.isEmpty() && spans.get(spans.size() - 1).nextGood().isEmpty();
  }
}
