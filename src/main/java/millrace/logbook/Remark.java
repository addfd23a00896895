// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Instant;
import java.util.OptionalLong;

/**
 * A remark on a run or a point, made afterwards; remarks are only added.
 *
 * @param kind what it says
 * @param point which point, by its place in the order of taking; empty for the whole run
 * @param text whole sentences; not blank
 * @param author who says it
 * @param writtenAt wall clock
 */
public record Remark(
    RemarkKind kind, OptionalLong point, String text, String author, Instant writtenAt) {

  /** Checks that the text is not blank. */
  public Remark {
    if (text.isBlank()) {
      throw new IllegalArgumentException("a remark says something");
    }
  }
}
