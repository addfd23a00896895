package millrace.link;

import java.time.Duration;

/**
 * How long a link waits, in real monotonic time.
 *
 * @param connect for a connection
 * @param reply for a reply, unless a question asks for more
 * @param quiet how long a line must be silent to count as drained
 */
public record Timing(Duration connect, Duration reply, Duration quiet) {
  /** 3 s to connect, 2 s for a reply, 50 ms of silence. */
  public static final Timing DEFAULT =
      new Timing(Duration.ofSeconds(3), Duration.ofSeconds(2), Duration.ofMillis(50));

  /** Checks that all are above zero. */
  public Timing {
    if (connect.toNanos() <= 0 || reply.toNanos() <= 0 || quiet.toNanos() <= 0) {
      throw new IllegalArgumentException(
          "time-outs must be above zero: connect %s, reply %s, quiet %s"
              .formatted(connect, reply, quiet));
    }
  }
}
