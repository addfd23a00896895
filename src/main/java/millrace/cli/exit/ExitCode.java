// SPDX-License-Identifier: Apache-2.0
package millrace.cli.exit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import millrace.fault.BadInputException;
import millrace.fault.InstrumentException;
import millrace.fault.InterlockException;
import millrace.fault.LogbookException;
import millrace.fault.MillraceException;
import millrace.fault.NotAnalysableException;
import millrace.fault.OutputException;
import millrace.fault.StoppedException;
import millrace.fault.TrialLapFailedException;
import millrace.fault.UnsafeBenchException;

/** The exit codes of the process; no other class knows them. */
public enum ExitCode {
  /** Done, all pass. */
  DONE(0),
  /** A fail or conditional fail. */
  FAIL(1),
  /** Wrong usage, or a file that does not validate. */
  BAD_INPUT(2),
  /** An instrument or link failed. */
  INSTRUMENT(3),
  /** Stopped by an interlock. */
  INTERLOCK(4),
  /** The logbook or the output failed, or memory ran out. */
  LOGBOOK(5),
  /** Input that cannot be analysed at all. */
  NOT_ANALYSABLE(6),
  /** Done, but a limit was not evaluated or a point is missing or flagged. */
  INCOMPLETE(7),
  /** The safe state could not be confirmed. */
  UNSAFE(8),
  /** Stopped by the trial lap. */
  TRIAL_LAP(9),
  /** Stopped by a hang-up, after the safe state. */
  HANG_UP(StoppedException.Signal.HUP),
  /** Stopped by Ctrl-C, after the safe state. */
  INTERRUPT(StoppedException.Signal.INT),
  /** Stopped by a terminate signal, after the safe state. */
  TERMINATE(StoppedException.Signal.TERM);

  private static final List<ExitCode> WORST_FIRST =
      List.of(
          BAD_INPUT,
          UNSAFE,
          INTERLOCK,
          TRIAL_LAP,
          LOGBOOK,
          INSTRUMENT,
          HANG_UP,
          INTERRUPT,
          TERMINATE,
          NOT_ANALYSABLE,
          FAIL,
          INCOMPLETE,
          DONE);

  private final int number;

  ExitCode(int number) {
    this.number = number;
  }

  /** The convention of shells for a process that a signal ended. */
  ExitCode(StoppedException.Signal signal) {
    this(128 + signal.number());
  }

  /**
   * The number for the operating system.
   *
   * @return 0 to 143
   */
  public int number() {
    return number;
  }

  /**
   * The code that takes precedence among several.
   *
   * @param codes the codes that apply
   * @return the first in precedence; {@link #DONE} if none applies
   */
  public static ExitCode worst(Collection<ExitCode> codes) {
    return WORST_FIRST.stream().filter(codes::contains).findFirst().orElse(DONE);
  }

  /** The number of this code or of another, whichever takes precedence. */
  int worst(int other) {
    List<ExitCode> both = new ArrayList<>(List.of(this));
    Arrays.stream(values()).filter(code -> code.number == other).forEach(both::add);
    return worst(both).number;
  }

  /**
   * The code for an error and for the errors attached to it while it was handled.
   *
   * @param error the error
   * @return the code that takes precedence
   */
  public static ExitCode of(MillraceException error) {
    ExitCode code = ofKind(error);
    for (Throwable later : error.getSuppressed()) {
      if (later instanceof MillraceException more) {
        code = worst(List.of(code, of(more)));
      }
    }
    return code;
  }

  private static ExitCode ofKind(MillraceException error) {
    if (error instanceof BadInputException) {
      return BAD_INPUT;
    } else if (error instanceof InstrumentException) {
      return INSTRUMENT;
    } else if (error instanceof InterlockException) {
      return INTERLOCK;
    } else if (error instanceof TrialLapFailedException) {
      return TRIAL_LAP;
    } else if (error instanceof LogbookException || error instanceof OutputException) {
      return LOGBOOK;
    } else if (error instanceof NotAnalysableException) {
      return NOT_ANALYSABLE;
    } else if (error instanceof UnsafeBenchException) {
      return UNSAFE;
    } else if (error instanceof StoppedException stopped) {
      return ofSignal(stopped.signal());
    }
    throw new IllegalStateException("an error kind without an exit code: " + error.getClass());
  }

  private static ExitCode ofSignal(StoppedException.Signal signal) {
    return switch (signal) {
      case HUP -> HANG_UP;
      case INT -> INTERRUPT;
      case TERM -> TERMINATE;
    };
  }
}
