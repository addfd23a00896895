package millrace.link;

import java.io.IOException;
import java.time.Duration;

/** An open byte path. One thread at a time; {@link #close} may come from any thread. */
interface Wire extends AutoCloseable {
  /** Sends all bytes. */
  void write(byte[] bytes) throws IOException;

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

  @Override
  void close();
}
