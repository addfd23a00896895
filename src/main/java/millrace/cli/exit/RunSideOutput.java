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
 * An output of a run beside its logbook. If it fails, the logbook notes that once, and the run goes
 * on.
 *
 * @param lost why it is incomplete, in sentences; empty while it is complete
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
