// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.time.Duration;

/**
 * How long a link waits, in real monotonic time.
 *
 * @param connect for a connection, above zero
 * @param reply for a reply, unless a question asks for more, above zero
 * @param quiet how long a line must be silent to count as drained, above zero
 * @param reopening how a link that was open before and broke is opened again
 */
public record LinkTimeouts(Duration connect, Duration reply, Duration quiet, Reopening reopening) {
  /** 3 s to connect, 2 s for a reply, 50 ms of silence, 8 tries to open again. */
  public static final LinkTimeouts DEFAULT =
      new LinkTimeouts(
          Duration.ofSeconds(3), Duration.ofSeconds(2), Duration.ofMillis(50), Reopening.DEFAULT);

  /** Checks that all are above zero. */
  public LinkTimeouts {
    if (connect.toNanos() <= 0 || reply.toNanos() <= 0 || quiet.toNanos() <= 0) {
      throw new IllegalArgumentException(
          "time-outs must be above zero: connect %s, reply %s, quiet %s"
              .formatted(connect, reply, quiet));
    }
  }

  /**
   * The same with another wait for replies.
   *
   * @param span above zero
   * @return the timing
   */
  public LinkTimeouts replyingWithin(Duration span) {
    return new LinkTimeouts(connect, span, quiet, reopening);
  }

  /**
   * How a broken link is opened again: the pause before the second try is the first, each further
   * one is twice as long up to a bound.
   *
   * @param first the first pause, not negative
   * @param longest the longest pause, not below the first
   * @param tries how often it is tried, 1 or more
   */
  public record Reopening(Duration first, Duration longest, int tries) {
    /** 0.2 s growing to 10 s, 8 tries: about 23 s in all. */
    public static final Reopening DEFAULT =
        new Reopening(Duration.ofMillis(200), Duration.ofSeconds(10), 8);

    /** One try alone. */
    public static final Reopening ONCE = new Reopening(Duration.ZERO, Duration.ZERO, 1);

    /** Checks the order. */
    public Reopening {
      if (first.isNegative() || longest.compareTo(first) < 0 || tries < 1) {
        throw new IllegalArgumentException(
            "%s tries with pauses from %s to %s; expected at least one, and growing pauses"
                .formatted(tries, first, longest));
      }
    }

    /**
     * The pause behind a try that failed.
     *
     * @param failed how many failed so far, 1 or more
     * @return the pause
     */
    public Duration pauseAfter(int failed) {
      Duration pause = first.multipliedBy(1L << Math.min(20, failed - 1));
      return pause.compareTo(longest) > 0 ? longest : pause;
    }
  }
}
