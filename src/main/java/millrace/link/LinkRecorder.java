// SPDX-License-Identifier: Apache-2.0
package millrace.link;

/**
 * Is called with all bytes that go over a link, one character a byte, in the thread of the
 * conversation. An implementation for several links must be thread-safe.
 */
public interface LinkRecorder {
  /** Records nothing. */
  LinkRecorder NONE = new LinkRecorder() {};

  /**
   * The link was opened.
   *
   * @param address where
   */
  default void opened(LinkAddress address) {}

  /**
   * A command was sent.
   *
   * @param bytes with its end
   */
  default void sent(String bytes) {}

  /**
   * Bytes came in.
   *
   * @param bytes as they came, perhaps only a part of a reply
   */
  default void received(String bytes) {}

  /**
   * Bytes that answered no question were dropped.
   *
   * @param bytes as they came
   */
  default void dropped(String bytes) {}

  /**
   * The link broke.
   *
   * @param why what the system says
   */
  default void broke(String why) {}
}
