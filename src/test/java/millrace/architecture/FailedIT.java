// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the build says at its end of tests that failed. */
class FailedIT {
  @TempDir private Path folder;

  private List<String> said(String which) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                Path.of(".ci", "Failed.java").toString(),
                folder.toString(),
                "2026-01-01T00:00:00Z",
                which)
            .redirectErrorStream(true)
            .start();
    String text = new String(process.getInputStream().readAllBytes(), UTF_8);
    assertEquals(0, process.waitFor(), text);
    return text.lines().filter(l -> !l.startsWith("Picked up ")).toList();
  }

  private void report(String name, int failures) throws IOException {
    StringBuilder xml = new StringBuilder("<testsuite><testcase classname='a.B' name='good'/>");
    for (int i = 0; i < failures; i++) {
      xml.append("<testcase classname='a.").append(name).append("' name='bad").append(i);
      xml.append("'><failure message='expected: 1&#10;but was: 2' type='x'/></testcase>");
    }
    Files.writeString(folder.resolve("TEST-a." + name + ".xml"), xml + "</testsuite>");
  }

  @Test
  void isSilentWhereAllPassedAndSaysThatNoneRan() throws Exception {
    assertEquals(List.of(), said("some"));
    assertEquals("  no test ran: the reason stands above", said("all").get(1));
    report("Good", 0);
    assertEquals(List.of(), said("all"));
  }

  @Test
  void manyFailuresAreTenLines() throws Exception {
    report("Bad", 12);
    Files.writeString(folder.resolve("begun-17.txt"), "");
    List<String> said = said("all");
    assertEquals(10, said.size(), said.toString());
    assertEquals("13 of 13 tests failed:", said.get(0));
    assertEquals("  a.Bad.bad0: expected: 1", said.get(1));
    assertTrue(said.get(9).startsWith("and 5 more; all of each stands in "), said.get(9));
  }

  @Test
  void aProcessThatEndedAmidItsTestsIsAFailure() throws Exception {
    report("Good", 0);
    Files.writeString(folder.resolve("begun-17.txt"), "");
    assertEquals(
        "  a process of tests ended before they had: the reason stands above", said("all").get(1));
  }
}
