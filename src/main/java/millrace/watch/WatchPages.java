// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.io.StringWriter;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import millrace.assessment.Assessor;
import millrace.assessment.comparison.Comparison;
import millrace.assessment.comparison.RunComparer;
import millrace.assessment.comparison.UnitFactors;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.LatestRunVerdict;
import millrace.logbook.Logbook;
import millrace.logbook.LogbookPlace;
import millrace.logbook.RunFilter;
import millrace.logbook.RunReader;
import millrace.logbook.RunState;
import millrace.logbook.RunSummary;
import millrace.report.comparison.ComparisonReport;
import millrace.report.page.Report;
import millrace.watch.page.MessagePage;
import millrace.watch.page.ShelfPage;

/** The pages, made on request. Thread-safe. */
final class WatchPages {
  private static final int MOST_ON_SHELF = 200;
  private static final int MOST_COMPARED = 40;
  private static final List<String> FILTERS =
      List.of("text", "unit", "batch", "tag", "instrument", "failed");

  private final LogbookPlace logbook;

  WatchPages(LogbookPlace logbook) {
    this.logbook = logbook;
  }

  /** Whether the logbook contains a run. */
  boolean has(long id) {
    try (Logbook book = logbook.readOnly()) {
      return book.runs(RunFilter.ALL).stream().anyMatch(r -> r.id() == id);
    }
  }

  Reply shelf(QueryWords words) {
    return Reply.html(200, ShelfPage.of(onShelf(words)));
  }

  /** The pieces of the shelf that are refreshed while it is open. */
  Map<String, String> shelfPieces(QueryWords words) {
    return ShelfPage.pieces(onShelf(words));
  }

  private ShelfPage.Shelf onShelf(QueryWords words) {
    Map<String, String> asked = new LinkedHashMap<>();
    FILTERS.forEach(f -> words.one(f).ifPresent(v -> asked.put(f, v)));
    RunFilter filter =
        RunFilter.ALL
            .ofUnit(words.one("unit"))
            .ofBatch(words.one("batch"))
            .ofTag(words.one("tag"))
            .with(words.one("instrument"))
            .holding(words.one("text"));
    try (Logbook book = logbook.readOnly()) {
      Map<Long, LatestRunVerdict> verdicts = new HashMap<>();
      book.verdicts(filter).forEach(v -> verdicts.put(v.run(), v));
      List<RunSummary> runs = new ArrayList<>(book.runs(filter));
      if (asked.containsKey("failed")) {
        runs.removeIf(r -> !failed(verdicts, r));
      }
      runs.sort((a, b) -> Long.compare(b.id(), a.id()));
      Set<Long> writing = new HashSet<>();
      runs.stream()
          .filter(r -> r.state() == RunState.UNFINISHED && book.isBeingWritten(r.id()))
          .forEach(r -> writing.add(r.id()));
      int left = Math.max(0, runs.size() - MOST_ON_SHELF);
      List<RunSummary> shown = runs.subList(0, runs.size() - left);
      return new ShelfPage.Shelf(
          logbook.name(),
          shown,
          verdicts,
          writing,
          asked,
          left,
          asked.containsKey("instrument")
              ? certificates(book, shown, asked.get("instrument"))
              : List.of());
    }
  }

  private static boolean failed(Map<Long, LatestRunVerdict> verdicts, RunSummary r) {
    LatestRunVerdict verdict = verdicts.get(r.id());
    return verdict != null && verdict.failedFirst().isPresent();
  }

  /** Every certificate recorded for the instrument, each once. */
  private static List<String> certificates(Logbook book, List<RunSummary> runs, String asked) {
    Set<String> found = new TreeSet<>();
    for (RunSummary r : runs) {
      book.reader(r.id()).instruments().stream()
          .filter(i -> i.name().equals(asked) || i.serial().filter(asked::equals).isPresent())
          .forEach(i -> found.add(certificate(i)));
    }
    return List.copyOf(found);
  }

  private static String certificate(InstrumentEntry entry) {
    return entry
        .certificate()
        .map(
            c ->
                "'%s': number %s of %s, calibrated %s, due %s"
                    .formatted(
                        entry.name(),
                        c.number(),
                        c.laboratory(),
                        c.calibratedOn().map(Object::toString).orElse("on no stated day"),
                        c.dueOn().map(Object::toString).orElse("on no stated day")))
        .orElse("'%s': no certificate was stated".formatted(entry.name()));
  }

  Reply report(long id) {
    try (Logbook book = logbook.readOnly()) {
      RunReader reader = book.reader(id);
      StringWriter page = new StringWriter();
      Report.write(page, Assessor.assess(reader), reader, Optional.empty());
      return Reply.document(page.toString());
    }
  }

  Reply compare(QueryWords words) {
    List<String> picked = words.all("run");
    if (picked.size() < 2 || picked.size() > MOST_COMPARED) {
      return message(
          400,
          "Nothing to compare",
          "Tick from 2 to " + MOST_COMPARED + " runs among all runs, then compare them.");
    }
    try (Logbook book = logbook.readOnly()) {
      List<RunSummary> runs = picked.stream().map(book::find).toList();
      Comparison comparison = RunComparer.of(book, runs, true, UnitFactors.NONE);
      StringWriter page = new StringWriter();
      ComparisonReport.write(page, comparison, book);
      return Reply.document(page.toString());
    }
  }

  static Reply message(int status, String answer, String what) {
    return Reply.html(status, MessagePage.of(answer, what));
  }
}
