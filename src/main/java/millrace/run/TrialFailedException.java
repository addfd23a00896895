package millrace.run;

import java.io.Serial;
import millrace.fault.InterlockException;

/** A unit failed its trial lap: the chamber is not moved for its sake. */
final class TrialFailedException extends InterlockException {
  @Serial private static final long serialVersionUID = 1L;

  TrialFailedException(String message) {
    super(message);
  }
}
