// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import millrace.evidence.ReadingState;

/** What an instrument answered to a question for a number, always with the reply as received. */
public sealed interface Reply {
  /**
   * The reply as received.
   *
   * @return the raw text
   */
  String raw();

  /**
   * What kind of reply it is.
   *
   * @return the state a reading gets
   */
  ReadingState state();

  /**
   * A number.
   *
   * @param value in base units; finite
   * @param raw the reply as received
   */
  record Number(double value, String raw) implements Reply {
    /** Checks that it is finite. */
    public Number {
      if (!Double.isFinite(value)) {
        throw new IllegalArgumentException("a number is finite, found " + value);
      }
    }

    @Override
    public ReadingState state() {
      return ReadingState.NUMBER;
    }
  }

  /**
   * The instrument says that its range was exceeded.
   *
   * @param raw the reply as received
   */
  record Overload(String raw) implements Reply {
    @Override
    public ReadingState state() {
      return ReadingState.OVERLOAD;
    }
  }

  /**
   * The instrument says that it has no number.
   *
   * @param raw the reply as received
   */
  record NotANumber(String raw) implements Reply {
    @Override
    public ReadingState state() {
      return ReadingState.NOT_A_NUMBER;
    }
  }

  /**
   * The reply is off its grammar.
   *
   * @param raw the reply as received
   */
  record Malformed(String raw) implements Reply {
    @Override
    public ReadingState state() {
      return ReadingState.MALFORMED;
    }
  }

  /**
   * The instrument says that it is not ready yet, and did not become so in time.
   *
   * @param raw the reply as received
   */
  record NotReady(String raw) implements Reply {
    @Override
    public ReadingState state() {
      return ReadingState.NOT_A_NUMBER;
    }
  }
}
