// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;

/** To which group of a factor a run belongs; each run is looked up once. Single-threaded. */
final class RunGrouping {
  private final Logbook book;
  private final Map<Long, String> benches = new HashMap<>();
  private final Map<Long, Optional<String>> fixtures = new HashMap<>();

  RunGrouping(Logbook book) {
    this.book = book;
  }

  /** The group; empty where nobody said. */
  Optional<String> of(ComparisonFactor factor, ComparedRun run) {
    RunStart.People people = run.run().start().people();
    return switch (factor) {
      case BENCH -> Optional.of(bench(run));
      case BATCH -> people.batch();
      case OPERATOR -> people.operator();
      case FIXTURE -> fixtures.computeIfAbsent(run.run().id(), this::fixture);
    };
  }

  /** A bench is known by its current meter, or by what a file calls it. */
  String bench(ComparedRun run) {
    return benches.computeIfAbsent(
        run.run().id(),
        id -> run.run().start().facts().bench().orElseGet(() -> meter(book.reader(id))));
  }

  private static String meter(RunReader reader) {
    Optional<InstrumentEntry> meter =
        reader.instruments().stream()
            .filter(
                e ->
                    e.roles().contains(RoleName.CURRENT_METER.text())
                        || e.roles().contains(RoleName.SHUNT_VOLTMETER.text()))
            .findFirst();
    return meter.map(m -> m.serial().orElse(m.identity())).orElse("unknown bench");
  }

  private Optional<String> fixture(long run) {
    return book.reader(run).setUp().map(RunGrouping::named).filter(name -> !name.isBlank());
  }

  private static String named(FixtureSetUp s) {
    return s.cables().isBlank() ? s.fixture() : s.fixture() + " with " + s.cables();
  }
}
