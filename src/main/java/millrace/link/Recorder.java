package millrace.link;

/** Hears what goes over a link. Called by whoever holds the conversation. */
public interface Recorder {
  /** Hears nothing. */
  Recorder NONE = new Recorder() {};

  /**
   * A command was sent.
   *
   * @param command without its end
   */
  default void sent(String command) {}

  /**
   * A reply was received.
   *
   * @param reply without its end
   */
  default void received(String reply) {}

  /**
   * Bytes that answered no question were dropped.
   *
   * @param bytes as received, one character a byte
   */
  default void dropped(String bytes) {}
}
