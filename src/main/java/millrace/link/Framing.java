package millrace.link;

/**
 * How commands end and how long replies may be.
 *
 * @param commandEnd what is sent behind each command
 * @param mostReplyBytes the longest reply that is taken; 1 or more
 */
public record Framing(String commandEnd, int mostReplyBytes) {
  /** LF behind commands, replies up to 64 KiB. */
  public static final Framing LINES = new Framing("\n", 65_536);

  /** Checks the bound. */
  public Framing {
    if (mostReplyBytes < 1) {
      throw new IllegalArgumentException(
          "a reply may be " + mostReplyBytes + " bytes long; expected 1 or more");
    }
  }
}
