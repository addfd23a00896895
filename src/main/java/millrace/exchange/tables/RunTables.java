// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.tables;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import millrace.evidence.Conformity;
import millrace.evidence.Incident;
import millrace.evidence.Result;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.RunStart;
import millrace.logbook.RunSummary;
import millrace.quantity.TimeSpanSeconds;
import tech.tablesaw.api.Table;

/** The facts about a run as a whole. */
final class RunTables {
  private RunTables() {}

  private static <V> Function<StoredRun, V> summary(Function<RunSummary, V> of) {
    return run -> of.apply(run.summary());
  }

  private static <V> Function<StoredRun, V> start(Function<RunStart, V> of) {
    return summary(s -> of.apply(s.start()));
  }

  static void run(StoredRun run, Consumer<Table> taker) {
    Optional<FixtureSetUp> setUp = run.reader().setUp();
    Columns<StoredRun> columns =
        new Columns<StoredRun>()
            .whole("run", StoredRun::number)
            .word("run_uuid", summary(s -> s.uuid().toString()))
            .word("unit", start(RunStart::unit))
            .word("origin", start(s -> s.origin().text()))
            .word("title", start(RunStart::title))
            .text("batch", start(s -> s.people().batch()))
            .text("operator", start(s -> s.people().operator()))
            .text("tag", start(s -> s.people().tag()))
            .text("bench", start(s -> s.facts().bench()))
            .text("slot", start(s -> s.facts().slot()))
            .text("fixture", r -> setUp.map(FixtureSetUp::fixture))
            .text("cables", r -> setUp.map(FixtureSetUp::cables))
            .text("set_up_remark", r -> setUp.map(FixtureSetUp::remark))
            .text("started_at", start(RunStart::measuredAt))
            .text("ended_at", summary(s -> s.start().measuredAt().flatMap(began -> s.endedAt())))
            .word("state", summary(s -> s.state().text()))
            .word("remark", summary(RunSummary::remark))
            .text("conformity", r -> Result.together(r.results()).map(Conformity::text))
            .text("bin", StoredRun::bin)
            .text("retest_cause", start(s -> s.facts().retestCause()))
            .word("millrace", start(RunStart::millrace))
            .text("digest", summary(RunSummary::digest));
    taker.accept(columns.table(List.of(run)));
  }

  static void instruments(StoredRun run, Consumer<Table> taker) {
    Columns<InstrumentEntry> columns =
        new Columns<InstrumentEntry>()
            .whole("run", e -> run.number())
            .word("instrument", InstrumentEntry::name)
            .word("roles", InstrumentEntry::roles)
            .word("driver", InstrumentEntry::driver)
            .word("identity", InstrumentEntry::identity)
            .text("serial", InstrumentEntry::serial)
            .text("laboratory", e -> e.certificate().map(c -> c.laboratory()))
            .text("certificate", e -> e.certificate().map(c -> c.number()))
            .text("calibrated_on", e -> e.certificate().flatMap(c -> c.calibratedOn()))
            .text("due_on", e -> e.certificate().flatMap(c -> c.dueOn()))
            .text("since", e -> Optional.of(e.since()));
    taker.accept(columns.table(run.reader().instruments()));
  }

  static void incidents(StoredRun run, Consumer<Table> taker) {
    Columns<Incident> columns =
        new Columns<Incident>()
            .whole("run", i -> run.number())
            .number("elapsed_s", i -> TimeSpanSeconds.seconds(i.elapsed()))
            .text("at", i -> Optional.of(i.at()))
            .word("kind", i -> i.kind().text())
            .text("point_key", Incident::pointKey)
            .word("text", Incident::text);
    taker.accept(columns.table(run.reader().incidents()));
  }
}
