// SPDX-License-Identifier: Apache-2.0
package millrace.run.production;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import millrace.logbook.SetUp;

/**
 * One test that is to be made.
 *
 * @param serial serial number of the unit
 * @param purpose what the test is for
 * @param attempt which test of this unit it is, 1 or more
 * @param cause why it is tested again; present exactly for a retest, and for a check after one that
 *     failed
 * @param slot where it sits; empty where the bench has only one place
 * @param setUp how it is connected
 */
public record Board(
    String serial,
    Purpose purpose,
    int attempt,
    Optional<String> cause,
    Optional<String> slot,
    SetUp setUp) {
  /** Name of the fact that tells runs of the production loop from others. */
  public static final String PRODUCTION = "production";

  /** Name of the fact that tells which test of the unit a run was. */
  public static final String ATTEMPT = "attempt";

  /** Name of the fact that tells why a unit was tested again. */
  public static final String CAUSE = "retest cause";

  /** Name of the fact that tells the slot. */
  public static final String SLOT = "slot";

  /** Name of the fact that tells the kind of the unit, as its datasheet calls it. */
  public static final String KIND = "kind of unit";

  /** Name of the fact that tells the shift. */
  public static final String SHIFT = "shift";

  /** Name of the fact that tells when the loop was started, which makes a session. */
  public static final String SESSION = "session";

  /** What a test is for. */
  public enum Purpose {
    /** A unit that is produced. */
    BOARD("board"),
    /** The reference unit, to check the bench. */
    CHECK("self-check");

    private final String text;

    Purpose(String text) {
      this.text = text;
    }

    /**
     * The word in the logbook.
     *
     * @return board or self-check
     */
    public String text() {
      return text;
    }
  }

  /** Checks the attempt. */
  public Board {
    if (attempt < 1) {
      throw new IllegalArgumentException("attempt " + attempt + "; expected 1 or more");
    }
  }

  /**
   * What the logbook keeps of it with the run.
   *
   * @return facts by name
   */
  public Map<String, String> facts() {
    Map<String, String> facts = new LinkedHashMap<>();
    facts.put(PRODUCTION, purpose.text());
    facts.put(ATTEMPT, Integer.toString(attempt));
    cause.ifPresent(c -> facts.put(CAUSE, c));
    slot.ifPresent(s -> facts.put(SLOT, s));
    return facts;
  }
}
