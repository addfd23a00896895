package millrace;

import static org.junit.jupiter.api.Assertions.fail;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.File;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;

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

  private static void demand(boolean there, String otherwise) {
    if (!there && "true".equals(System.getenv("CI"))) {
      fail(otherwise + "; with CI=true nothing may be skipped");
    }
    assumeTrue(there, otherwise);
  }
}
