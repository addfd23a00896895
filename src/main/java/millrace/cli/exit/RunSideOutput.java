// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import millrace.evidence.Incident;
import millrace.evidence.Point;
import millrace.evidence.Reading;
import millrace.fault.OutputException;
import millrace.run.control.RunObserver;

/**
 * Something that a run writes to beside its logbook. Where it takes no more the logbook notes that
 * once, and the run goes on.
 *
 * @param lost why it is not whole, in sentences; empty while it is
 */
record RunSideOutput(Supplier<Optional<String>> lost) implements RunObserver {
  private void check() {
    lost.get()
        .ifPresent(
            why -> {
              throw new OutputException(why);
            });
  }

  @Override
  public void began(long run, int points, int done) {
    check();
  }

  @Override
  public void committed(Point point, List<Reading> readings) {
    check();
  }

  @Override
  public void incident(Incident incident) {
    check();
  }
}
