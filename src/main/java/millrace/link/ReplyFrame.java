// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.util.Optional;

/**
 * Assembles a reply byte by byte, in whatever pieces the bytes come. Single-threaded; used again
 * after {@link #reset}.
 */
sealed interface ReplyFrame permits LineFrame, BlockFrame, RtuFrame {
  /**
   * Takes bytes until the reply is whole, has a fault, or the bytes are used up.
   *
   * @return the index behind the last byte used
   */
  int take(byte[] bytes, int from, int to);

  /** Tells whether the reply is whole. */
  boolean whole();

  /** What makes the reply unusable, a part of a sentence; empty if nothing does. */
  Optional<String> fault();

  /** The whole reply without its framing bytes; one character a byte, or two hex digits. */
  String text();

  /** What is expected as a reply, for messages. */
  String wanted();

  /** What has come so far, one character a byte, at most a few hundred of them. */
  String begun();

  /** Begins a new reply. */
  void reset();
}
