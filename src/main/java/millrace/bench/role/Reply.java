// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import millrace.evidence.ReadingState;

/** The reply of an instrument to a query for a number, always with the text as received. */
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
   * The instrument reports an overload of its range.
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
   * The instrument reports that it has no number.
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
   * The reply does not match its pattern.
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
   * The instrument reports that it is not ready, and was not ready in time.
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
