// SPDX-License-Identifier: Apache-2.0
package millrace;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Stream;

/**
 * Programs that some tests want. Where one is missing the test is skipped and says so; with {@code
 * CI=true} in the environment it fails instead, so that nothing is skipped unseen.
 */
public final class Needs {
  private Needs() {}

  /**
   * Wants a program on the path.
   *
   * @param name the program
   */
  public static void program(String name) {
    boolean there =
        Arrays.stream(System.getenv().getOrDefault("PATH", "").split(File.pathSeparator))
            .anyMatch(folder -> Files.isExecutable(Path.of(folder, name)));
    demand(there, "the program '" + name + "' is not installed");
  }

  /** Wants that Ctrl-C reaches what is started from here; in a shell's background it does not. */
  public static void interrupts() {
    program("kill");
    demand(!ignored(2), "signal INT is ignored here, as in the background of a shell");
  }

  /**
   * Tells whether this process was started with a signal ignored, and so ignores it to its end.
   *
   * @param signal its number, such as 1 for HUP and 2 for INT
   * @return true where Linux tells it (proc(5), SigIgn)
   */
  public static boolean ignored(int signal) {
    try (Stream<String> lines = Files.lines(Path.of("/proc/self/status"))) {
      return lines
          .filter(l -> l.startsWith("SigIgn:"))
          .map(l -> Long.parseUnsignedLong(l.substring(7).strip(), 16))
          .anyMatch(bits -> (bits >> (signal - 1) & 1) == 1);
    } catch (IOException elsewhere) {
      return false;
    }
  }

  /** Wants what a test looked for itself. */
  public static void that(boolean there, String otherwise) {
    demand(there, otherwise);
  }

  private static void demand(boolean there, String otherwise) {
    if (!there && "true".equals(System.getenv("CI"))) {
      fail(otherwise + "; with CI=true nothing may be skipped");
    }
    assumeTrue(there, otherwise);
  }
}
