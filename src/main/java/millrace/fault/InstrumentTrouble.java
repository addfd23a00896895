// SPDX-License-Identifier: Apache-2.0
package millrace.fault;

import java.time.Duration;

/**
 * What went wrong with an instrument or its link, as facts; the message is built from them here and
 * nowhere else.
 *
 * <p>Immutable and thread-safe; the {@code with...} methods give changed copies.
 *
 * @param kind what kind of trouble it is
 * @param instrument the instrument's name in the bench file, with its role where that matters;
 *     empty where only the link is known
 * @param address where it is reached; not blank
 * @param found what was found, a part of a sentence
 * @param expected what was expected instead; may be empty
 * @param remedy what to do, a sentence with its full stop; may be empty
 * @param asked what was sent, and what came back
 * @param attempt which attempt this was, from 1
 * @param attempts how many there are at most
 */
public record InstrumentTrouble(
    Kind kind,
    String instrument,
    String address,
    String found,
    String expected,
    String remedy,
    Asked asked,
    int attempt,
    int attempts) {

  /** Kinds of trouble, so that a runner can decide what to do. */
  public enum Kind {
    /** It could not be reached at all. */
    UNREACHABLE,
    /** Nothing, or no whole reply, came in time. */
    NO_REPLY,
    /** The link broke while it was in use. */
    BROKEN,
    /** Unrequested bytes came: the earlier replies are doubtful. */
    OUT_OF_STEP,
    /** The reply came, and is off its grammar or not what the command asks for. */
    WRONG_REPLY,
    /** Another instrument answers there. */
    WRONG_IDENTITY,
    /** The instrument says that it cannot do what was asked. */
    REFUSED,
    /** The caller, further out, waits for its link. */
    BUSY,
    /** The wait was ended from outside. */
    STOPPED
  }

  /**
   * One exchange.
   *
   * @param command what was sent, without its end; empty if nothing was
   * @param reply what came back, one character a byte; empty if nothing did
   * @param waited how long was waited, real time
   */
  public record Asked(String command, String reply, Duration waited) {
    /** Nothing was asked. */
    public static final Asked NOTHING = new Asked("", "", Duration.ZERO);
  }

  /** Checks what the components promise. */
  public InstrumentTrouble {
    if (address.isBlank() || found.isBlank()) {
      throw new IllegalArgumentException("a trouble says where it is and what was found");
    }
    if (attempt < 1 || attempts < attempt) {
      throw new IllegalArgumentException(
          "attempt " + attempt + " of " + attempts + "; expected to count from 1");
    }
  }

  /**
   * A trouble of which only the link is known.
   *
   * @param kind what kind it is
   * @param address where
   * @param found what was found
   * @return the trouble
   */
  public static InstrumentTrouble of(Kind kind, String address, String found) {
    return new InstrumentTrouble(kind, "", address, found, "", "", Asked.NOTHING, 1, 1);
  }

  /**
   * Adds what should have been and what to do.
   *
   * @param expected what was expected
   * @param remedy what to do
   * @return a changed copy
   */
  public InstrumentTrouble with(String expected, String remedy) {
    return new InstrumentTrouble(
        kind, instrument, address, found, expected, remedy, asked, attempt, attempts);
  }

  /**
   * Adds the exchange.
   *
   * @param asked what was asked and answered
   * @return a changed copy
   */
  public InstrumentTrouble with(Asked asked) {
    return new InstrumentTrouble(
        kind, instrument, address, found, expected, remedy, asked, attempt, attempts);
  }

  /**
   * Adds who it is.
   *
   * @param instrument the instrument's name, with its role where that matters
   * @return a changed copy
   */
  public InstrumentTrouble named(String instrument) {
    return new InstrumentTrouble(
        kind, instrument, address, found, expected, remedy, asked, attempt, attempts);
  }

  /**
   * Adds which attempt it was.
   *
   * @param attempt from 1
   * @param attempts how many there are at most
   * @return a changed copy
   */
  public InstrumentTrouble attempt(int attempt, int attempts) {
    return new InstrumentTrouble(
        kind, instrument, address, found, expected, remedy, asked, attempt, attempts);
  }

  /**
   * The whole in one line: where, what was found, what was expected, what to do.
   *
   * @return the sentence
   */
  public String message() {
    StringBuilder line = new StringBuilder();
    line.append(instrument.isEmpty() ? address : instrument + " (" + address + ")");
    line.append(": ").append(found);
    if (attempts > 1) {
      line.append(", attempt ").append(attempt).append(" of ").append(attempts);
    }
    if (!expected.isEmpty()) {
      line.append("; expected ").append(expected);
    }
    line.append('.');
    return remedy.isEmpty() ? line.toString() : line.append(' ').append(remedy).toString();
  }
}
