// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;
import millrace.fault.MillraceException;
import millrace.run.notice.Notices;
import millrace.terminal.Console;

/**
 * The end of a run, reported to people elsewhere whatever it is.
 *
 * @param notices the notices to people
 * @param console shows which output is incomplete
 * @param recording why the recording is incomplete; empty while it is complete
 */
public record RunEndNotice(
    Notices notices, Console console, Supplier<Optional<? extends MillraceException>> recording) {
  /**
   * Makes the notice for a run or a shift.
   *
   * @param notices the notices to people
   * @param console shows which output is incomplete
   * @param recording why the recording is incomplete; empty while it is complete
   * @param unit the name of the unit in notices
   * @param logbook the logbook of the run
   * @return the end of it
   */
  public static RunEndNotice of(
      Notices notices,
      Console console,
      Supplier<Optional<? extends MillraceException>> recording,
      String unit,
      Path logbook) {
    notices.fact("MILLRACE_UNIT", unit);
    notices.fact("MILLRACE_LOGBOOK", logbook.toAbsolutePath().toString());
    return new RunEndNotice(notices, console, recording);
  }

  /** The outputs beside the logbook, each monitored during the run. */
  public List<RunSideOutput> outlets() {
    return List.of(
        new RunSideOutput(() -> console.lost().map(Console::outputLost)),
        new RunSideOutput(
            () -> console.lostBeside().map(r -> "standard error cannot be written (" + r + ").")),
        new RunSideOutput(() -> recording.get().map(Throwable::getMessage)),
        new RunSideOutput(() -> notices.lost().map(Throwable::getMessage)));
  }

  /** Does the work and reports its end; returns the exit code. */
  public int of(Supplier<ExitCode> work) {
    try {
      ExitCode done = work.get();
      ExitCode code = whole() ? done : ExitCode.worst(List.of(done, ExitCode.LOGBOOK));
      exit(code);
      notices.tell(Notices.Event.FINISHED, "the run finished with exit code " + code.number());
      return code.number();
    } catch (MillraceException e) {
      whole();
      ExitCode code = ExitCode.of(e);
      exit(code);
      notices.tell(Notices.Event.FAILED, e.getMessage());
      if (code == ExitCode.UNSAFE) {
        notices.tell(Notices.Event.NEEDS_A_PERSON, "the bench may not be safe: go there now");
      }
      throw e;
    }
  }

  /**
   * Reports the files beside the logbook that are incomplete; standard output is reported at the
   * very end.
   */
  private boolean whole() {
    List<String> lost =
        List.of(recording.get(), notices.lost()).stream()
            .flatMap(Optional::stream)
            .map(Throwable::getMessage)
            .toList();
    lost.forEach(text -> console.error("millrace: " + text));
    return lost.isEmpty();
  }

  private void exit(ExitCode code) {
    notices.fact("MILLRACE_EXIT", Integer.toString(code.number()));
  }
}
