// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.bench.role.RoleName;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.JudgedRun;
import millrace.logbook.RunStart;

/** Finds the group of a run for each factor. */
public final class RunGrouping {
  /** The name of the group of runs without a statement. */
  private static final String NOBODY_SAID = "";

  private final UnitFactors own;

  /**
   * Grouping by the factors of runs and by a user's own.
   *
   * @param own the user's own factors of the units
   */
  public RunGrouping(UnitFactors own) {
    this.own = own;
  }

  /**
   * The groups of a run.
   *
   * @param run the run
   * @return the group by factor, factors in a fixed order; an empty name if nothing was stated
   */
  public Map<ComparisonFactor, String> of(JudgedRun run) {
    RunStart start = run.run().start();
    Map<ComparisonFactor, String> groups = new LinkedHashMap<>();
    groups.put(ComparisonFactor.BENCH, start.facts().bench().orElseGet(() -> meter(run)));
    groups.put(ComparisonFactor.BATCH, start.people().batch().orElse(NOBODY_SAID));
    groups.put(ComparisonFactor.OPERATOR, start.people().operator().orElse(NOBODY_SAID));
    groups.put(ComparisonFactor.FIXTURE, run.setUp().map(RunGrouping::named).orElse(""));
    groups.put(ComparisonFactor.SLOT, start.facts().slot().orElse(NOBODY_SAID));
    groups.put(ComparisonFactor.SHIFT, start.facts().shift().orElse(NOBODY_SAID));
    groups.put(ComparisonFactor.INSTRUMENT, instruments(run));
    own.factors().forEach(f -> groups.put(f, own.of(f, start.unit()).orElse(NOBODY_SAID)));
    return Collections.unmodifiableMap(groups);
  }

  /** A bench is identified by its current meter, unless a file names it. */
  private static String meter(JudgedRun run) {
    Optional<InstrumentEntry> meter =
        run.instruments().stream()
            .filter(
                e ->
                    e.roles().contains(RoleName.CURRENT_METER.text())
                        || e.roles().contains(RoleName.SHUNT_VOLTMETER.text()))
            .findFirst();
    return meter.map(m -> m.serial().orElse(m.identity())).orElse("unknown bench");
  }

  private static String instruments(JudgedRun run) {
    return run.instruments().stream()
        .map(e -> e.serial().map(sn -> e.name() + " " + sn).orElse(e.name()))
        .distinct()
        .sorted()
        .collect(Collectors.joining(", "));
  }

  private static String named(FixtureSetUp s) {
    String name = s.cables().isBlank() ? s.fixture() : s.fixture() + " with " + s.cables();
    return name.isBlank() ? NOBODY_SAID : name;
  }
}
