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
 * The end of a run, of which people elsewhere are told whatever it is.
 *
 * @param notices through which they are told
 * @param console where it is said which output is not whole
 * @param recording why the recording is not whole; empty while it is
 */
public record RunEndNotice(
    Notices notices, Console console, Supplier<Optional<? extends MillraceException>> recording) {
  /**
   * Of a run, or of a shift.
   *
   * @param notices through which people are told
   * @param console where it is said which output is not whole
   * @param recording why the recording is not whole; empty while it is
   * @param unit what notices call it
   * @param logbook where it is written
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

  /** What is written beside the logbook, each watched while the run goes on. */
  public List<RunSideOutput> outlets() {
    return List.of(
        new RunSideOutput(() -> console.lost().map(Console::outputLost)),
        new RunSideOutput(
            () -> console.lostBeside().map(r -> "standard error cannot be written (" + r + ").")),
        new RunSideOutput(() -> recording.get().map(Throwable::getMessage)),
        new RunSideOutput(() -> notices.lost().map(Throwable::getMessage)));
  }

  /** Does the work and tells how it ended; the exit code. */
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
   * Says which file beside the logbook is not whole; standard output is told of at the very end.
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
