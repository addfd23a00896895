// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import java.io.IOException;
import java.time.Duration;

/** An open byte path. One thread at a time; {@link #close} may come from any thread. */
interface Wire extends AutoCloseable {
  /** Sends the first bytes of a buffer, all or an exception. */
  void write(byte[] buffer, int count) throws IOException;

  /**
   * Waits for bytes.
   *
   * @return how many were put into the buffer, at least 1; 0 if none came in time
   * @throws IOException if the path is broken or the peer closed it
   */
  int read(byte[] buffer, Duration atMost) throws IOException;

  /** How many bytes could be read without waiting. */
  int waiting() throws IOException;

  /** Tells whether bytes of an earlier conversation can still arrive after it is opened anew. */
  boolean remembersWhenReopened();

  /** Tells whether a wait for missing bytes takes time; a recording knows at once. */
  default boolean waits() {
    return true;
  }

  @Override
  void close();

  /** Opens the byte path to one address, as often as is needed. */
  interface Dialer {
    /**
     * Opens it.
     *
     * @throws millrace.fault.InstrumentException if it cannot be opened; the message says why
     */
    Wire dial(LinkTimeouts timing);

    /** Tells whether opening may take long; a recording is there at once. */
    default boolean takesTime() {
      return false;
    }

    /** Its address, for messages. */
    default String address() {
      return "";
    }
  }
}
