// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import java.io.InputStream;
import java.io.PrintStream;

/** Consoles that no process has. */
public final class Consoles {
  private static final int COLUMNS = 80;

  private Consoles() {}

  /** Streams of which a person at a terminal of the usual width watches all or none. */
  public static Console of(InputStream in, PrintStream out, PrintStream err, boolean watched) {
    return new Console(in, out, err, new Terminal(watched, watched, watched, COLUMNS));
  }
}
