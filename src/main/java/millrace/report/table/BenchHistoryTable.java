// SPDX-License-Identifier: Apache-2.0
package millrace.report.table;

import java.time.OffsetDateTime;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import millrace.assessment.benches.BenchHistory;
import millrace.assessment.benches.BenchHistory.Check;
import millrace.assessment.benches.BenchHistory.Span;
import millrace.assessment.benches.BenchHistory.Week;
import millrace.logbook.RunSummary;
import millrace.quantity.NumberText;

/** Benches over weeks, in words and as plain text. Stateless. */
public final class BenchHistoryTable {
  private static final int WIDEST = 60;
  private static final DateTimeFormatter MINUTE =
      DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm", Locale.ROOT);

  private BenchHistoryTable() {}

  /**
   * What was found, benches that are out first.
   *
   * @param benches all benches
   * @return a paragraph for each bench at least, and what to do
   */
  public static List<String> verdict(List<BenchHistory> benches) {
    List<String> words = new ArrayList<>();
    benches.stream().filter(BenchHistory::isOut).forEach(b -> words.addAll(spans(b)));
    benches.stream().filter(b -> !b.isOut()).forEach(b -> words.addAll(spans(b)));
    return words;
  }

  private static List<String> spans(BenchHistory bench) {
    List<String> words = new ArrayList<>();
    Check last = bench.checks().get(bench.checks().size() - 1);
    String name = name(bench);
    if (last.open().isPresent()) {
      words.add(
          "%s is not judged by its last check, %s (run %s), by %s: %s."
              .formatted(name, time(last.run()), last.run().id(), by(bench), last.open().get()));
    } else if (!bench.isOut()) {
      words.add(
          "%s was good at its last check, %s (run %s), by %s; %s in all."
              .formatted(
                  name,
                  time(last.run()),
                  last.run().id(),
                  by(bench),
                  NumberText.counted(bench.checks().size(), "check")));
    }
    bench.spans().forEach(span -> words.add(span(name, span)));
    return words;
  }

  private static String name(BenchHistory bench) {
    String setUp = bench.setUp().isEmpty() ? "" : " with " + bench.setUp();
    String range = bench.setUp().isEmpty() ? "" : " on " + bench.setUp();
    return standard(bench)
        ? "The current meter of bench %s%s".formatted(bench.bench(), range)
        : "Bench " + bench.bench() + setUp;
  }

  private static String by(BenchHistory bench) {
    return (standard(bench) ? "check standard " : "") + bench.reference();
  }

  private static boolean standard(BenchHistory bench) {
    return bench.by() == BenchHistory.Reference.CHECK_STANDARD;
  }

  private static String span(String name, Span span) {
    String until =
        span.nextGood()
            .map(g -> "was OUT from %s to %s".formatted(time(span.firstOut().run()), time(g.run())))
            .orElseGet(() -> "is OUT since %s".formatted(time(span.firstOut().run())));
    String since =
        span.lastGood()
            .map(
                g ->
                    "after its last good check, %s (run %s)".formatted(time(g.run()), g.run().id()))
            .orElse("before any good check");
    return "%s %s (run %s): %s. Tested %s: %s%s"
        .formatted(
            name,
            until,
            span.firstOut().run().id(),
            String.join("; ", span.firstOut().findings()),
            since,
            span.recall().isEmpty()
                ? "no unit."
                : NumberText.counted(
                        span.recall().stream().map(BenchHistoryTable::unit).distinct().count(),
                        "unit")
                    + ".",
            span.recall().isEmpty() ? "" : " Test them again; --recall FILE lists them.");
  }

  private static String unit(RunSummary run) {
    return run.start().unit();
  }

  private static String time(RunSummary run) {
    return OffsetDateTime.ofInstant(run.start().startedAt(), run.start().offset()).format(MINUTE);
  }

  private static String outcome(Check check) {
    return check.out()
        ? "OUT: " + String.join("; ", check.findings())
        : check.open().map(why -> "not judged: " + why).orElse("good");
  }

  /**
   * The checks by weeks.
   *
   * @param benches all benches
   * @return lines, each with its line feed; empty without a bench
   */
  public static String weeks(List<BenchHistory> benches) {
    TextColumns table =
        new TextColumns(
            WIDEST,
            "bench",
            "set-up or range",
            "checked by",
            "week of",
            "checks",
            "out",
            "of what its chart allows",
            "mean, ppm");
    for (BenchHistory bench : benches) {
      for (Week week : bench.weeks()) {
        table.row(
            bench.bench(),
            bench.setUp(),
            bench.reference(),
            week.monday().toString(),
            String.valueOf(week.checks()),
            String.valueOf(week.out()),
            week.share().isPresent()
                ? "%s %%".formatted(NumberText.significant(100 * week.share().getAsDouble(), 2))
                : "-",
            week.ppm().isPresent() ? NumberText.significant(week.ppm().getAsDouble(), 3) : "-");
      }
    }
    return table.empty() ? "" : table.text();
  }

  /**
   * Every check of every bench.
   *
   * @param benches all benches
   * @return lines, each with its line feed; empty without a bench
   */
  public static String checks(List<BenchHistory> benches) {
    TextColumns table =
        new TextColumns(
            WIDEST, "bench", "set-up or range", "checked by", "checked", "run", "outcome");
    for (BenchHistory bench : benches) {
      String name = bench.bench();
      for (Check check : bench.checks()) {
        table.row(
            name,
            bench.setUp(),
            bench.reference(),
            time(check.run()),
            String.valueOf(check.run().id()),
            outcome(check));
      }
    }
    return table.empty() ? "" : table.text();
  }
}
