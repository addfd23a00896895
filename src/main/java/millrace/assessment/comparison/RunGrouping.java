// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.comparison;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.logbook.FixtureSetUp;
import millrace.logbook.InstrumentEntry;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;

/** To which group of each factor a run belongs. */
final class RunGrouping {
  /** The name of the group of those of which nobody said. */
  private static final String NOBODY_SAID = "";

  private final UnitFactors own;

  RunGrouping(UnitFactors own) {
    this.own = own;
  }

  /** The group by factor, every factor in one order; an empty name where nobody said. */
  Map<ComparisonFactor, String> of(RunReader reader) {
    RunStart start = reader.summary().start();
    Map<ComparisonFactor, String> groups = new LinkedHashMap<>();
    groups.put(ComparisonFactor.BENCH, start.facts().bench().orElseGet(() -> meter(reader)));
    groups.put(ComparisonFactor.BATCH, start.people().batch().orElse(NOBODY_SAID));
    groups.put(ComparisonFactor.OPERATOR, start.people().operator().orElse(NOBODY_SAID));
    groups.put(ComparisonFactor.FIXTURE, reader.setUp().map(RunGrouping::named).orElse(""));
    groups.put(ComparisonFactor.SLOT, start.facts().slot().orElse(NOBODY_SAID));
    own.factors().forEach(f -> groups.put(f, own.of(f, start.unit()).orElse(NOBODY_SAID)));
    return Collections.unmodifiableMap(groups);
  }

  /** A bench is known by its current meter, where no file calls it otherwise. */
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

  private static String named(FixtureSetUp s) {
    String name = s.cables().isBlank() ? s.fixture() : s.fixture() + " with " + s.cables();
    return name.isBlank() ? NOBODY_SAID : name;
  }
}
