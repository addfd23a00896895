// SPDX-License-Identifier: Apache-2.0
package millrace;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import org.junit.platform.launcher.TestExecutionListener;
import org.junit.platform.launcher.TestPlan;

/**
 * Leaves a file where a process of tests ends in the midst of them, which no report tells; the
 * build looks for it ({@code .ci/Failed.java}). Does nothing outside the build.
 */
public final class BegunTests implements TestExecutionListener {
  private static Path mark(String folder) {
    return Path.of(folder, "begun-" + ProcessHandle.current().pid() + ".txt");
  }

  @Override
  public void testPlanExecutionStarted(TestPlan plan) {
    String folder = System.getProperty("millrace.reports", "");
    if (!folder.isEmpty()) {
      try {
        Files.createDirectories(Path.of(folder));
        Files.writeString(mark(folder), Instant.now() + "\n");
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }

  @Override
  public void testPlanExecutionFinished(TestPlan plan) {
    String folder = System.getProperty("millrace.reports", "");
    if (!folder.isEmpty()) {
      try {
        Files.deleteIfExists(mark(folder));
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }
}
