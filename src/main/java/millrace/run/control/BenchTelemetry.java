// SPDX-License-Identifier: Apache-2.0
package millrace.run.control;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.ReplyTimes;

/**
 * What a run tells of its bench while it goes on and the logbook does not keep.
 *
 * @param replies how long the instruments take to reply, by their names in the bench file
 * @param looks what the interlocks saw last, by the watched quantity
 */
public record BenchTelemetry(Map<String, ReplyTimes> replies, Map<String, InterlockLook> looks) {
  /** Nothing is told. */
  public static final BenchTelemetry NONE = new BenchTelemetry(Map.of(), Map.of());

  /** Copies the maps; they keep their order. */
  public BenchTelemetry {
    replies = Collections.unmodifiableMap(new LinkedHashMap<>(replies));
    looks = Collections.unmodifiableMap(new LinkedHashMap<>(looks));
  }

  /**
   * How long an instrument takes to reply.
   *
   * @param instrument its name in the bench file
   * @return empty before its first reply, and for one that is set by hand
   */
  public Optional<ReplyTimes> repliesOf(String instrument) {
    return Optional.ofNullable(replies.get(instrument));
  }

  /**
   * What an interlock saw last.
   *
   * @param what the watched quantity
   * @return empty before its first look
   */
  public Optional<InterlockLook> look(String what) {
    return Optional.ofNullable(looks.get(what));
  }
}
