// SPDX-License-Identifier: Apache-2.0
package millrace.cli.option;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.Optional;
import millrace.logbook.RunFilter;
import picocli.CommandLine.Option;

/** The days, in UTC as in lists, on which the runs for a command began. */
public final class RunDatesOption {
  @Option(names = "--since", paramLabel = "DATE", description = "Only runs from this day on.")
  private Optional<LocalDate> since = Optional.empty();

  @Option(names = "--until", paramLabel = "DATE", description = "Only runs up to this day.")
  private Optional<LocalDate> until = Optional.empty();

  /** Whether the option was given. */
  public boolean given() {
    return since.isPresent() || until.isPresent();
  }

  /** Selects the runs that began on one of these days. */
  public RunFilter of(RunFilter others) {
    return others.within(
        since.map(day -> day.atStartOfDay(ZoneOffset.UTC).toInstant()),
        until
            .filter(LocalDate.MAX::isAfter)
            .map(day -> day.plusDays(1).atStartOfDay(ZoneOffset.UTC).toInstant()));
  }
}
