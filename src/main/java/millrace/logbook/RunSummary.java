// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * One run as a list shows it.
 *
 * @param id its local number
 * @param uuid its number everywhere
 * @param start what was known when it began, facts included
 * @param state how far it got
 * @param endedAt wall clock at its end; empty while unfinished
 * @param remark why it ended as it did; may be empty text
 * @param digest the digest stored at its end; empty while unfinished
 * @param heldBy the process that wrote it last, in words
 * @param setUp number of the set-up it was measured in
 */
public record RunSummary(
    long id,
    UUID uuid,
    RunStart start,
    RunState state,
    Optional<Instant> endedAt,
    String remark,
    Optional<String> digest,
    Optional<String> heldBy,
    Optional<Long> setUp) {
  /**
   * What the runs that were begun together have in common: they share a chamber and instruments.
   *
   * @return the UUID of the first of them, its own for a run alone
   */
  public String night() {
    return start.facts().togetherWith().orElse(uuid.toString());
  }
}
