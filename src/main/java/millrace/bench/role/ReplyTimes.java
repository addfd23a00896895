// SPDX-License-Identifier: Apache-2.0
package millrace.bench.role;

import java.time.Duration;

/**
 * How long an instrument takes to reply: from the end of a question to the end of its reply, real
 * time. The integration of a reading is part of it. Immutable.
 *
 * @param replies how many there were, at least 1
 * @param last the last
 * @param longest the longest
 */
public record ReplyTimes(long replies, Duration last, Duration longest) {
  /**
   * The first reply.
   *
   * @param took how long it took
   * @return it alone
   */
  public static ReplyTimes first(Duration took) {
    return new ReplyTimes(1, took, took);
  }

  /**
   * One more reply.
   *
   * @param took how long it took
   * @return with it
   */
  public ReplyTimes and(Duration took) {
    return new ReplyTimes(replies + 1, took, took.compareTo(longest) > 0 ? took : longest);
  }
}
