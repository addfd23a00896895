package millrace.cli;

import java.nio.file.Path;
import java.util.function.Supplier;
import millrace.fault.MillraceException;

/**
 * The end of a run, of which people elsewhere are told whatever it is.
 *
 * @param notices through which they are told
 */
record Told(Notices notices) {
  static Told of(Notices notices, String unit, Path logbook) {
    notices.fact("MILLRACE_UNIT", unit);
    notices.fact("MILLRACE_LOGBOOK", logbook.toAbsolutePath().toString());
    return new Told(notices);
  }

  /** Does the work and tells how it ended; the exit code. */
  int of(Supplier<ExitCode> work) {
    try {
      ExitCode code = work.get();
      exit(code);
      notices.tell(Notices.Event.FINISHED, "the run finished with exit code " + code.number());
      return code.number();
    } catch (MillraceException e) {
      ExitCode code = ExitCode.of(e);
      exit(code);
      notices.tell(Notices.Event.FAILED, e.getMessage());
      if (code == ExitCode.UNSAFE) {
        notices.tell(Notices.Event.NEEDS_A_PERSON, "the bench may not be safe: go there now");
      }
      throw e;
    }
  }

  private void exit(ExitCode code) {
    notices.fact("MILLRACE_EXIT", Integer.toString(code.number()));
  }
}
