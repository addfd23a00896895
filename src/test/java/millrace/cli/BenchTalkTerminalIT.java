// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.concurrent.TimeUnit;
import millrace.Needs;
import millrace.link.Peer;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A person speaks to an instrument: a process of its own on a pseudo-terminal of its own. */
@Timeout(value = 120, threadMode = Timeout.ThreadMode.SEPARATE_THREAD)
class BenchTalkTerminalIT {
  /**
   * The arrow of a terminal that was told to send its application keys, as the line editor does.
   */
  private static final String UP = "\u001bOA";

  private static final String RUBOUT = "\u007f";
  private static final String END = "\u0004";

  @TempDir private Path folder;
  private Process talk;
  private Reader out;
  private final StringBuilder shown = new StringBuilder();

  @AfterEach
  void end() {
    if (talk != null) {
      talk.destroyForcibly();
    }
  }

  @Test
  void aPersonHasHistoryEditingBytesAndARecording() throws Exception {
    Needs.program("socat");
    try (Peer peer = Peer.listening((line, mouth) -> mouth.say("<" + line + ">\n"))) {
      Path bench = folder.resolve("b.yaml");
      Files.writeString(
          bench,
          "bench: b\ninstruments:\n  x: {driver: scpi meter, address: '%s', roles: {current meter: {}}}\n"
              .formatted(peer.address()));
      Path recording = folder.resolve("x.recording");
      talk = onATerminal("bench", "talk", "x", "--bench", bench, "--record", recording);
      out = new InputStreamReader(talk.getInputStream(), StandardCharsets.UTF_8);
      type("*IDN?\r", "< <*IDN?>\\n");
      type("bytes\r", "bytes are shown");
      type(UP + UP + "\r", "2a 49 44 4e 3f");
      type("*RSX" + RUBOUT + "T?\r", "< <*RST?>\\n");
      type(END, "");
      assertTrue(talk.waitFor(60, TimeUnit.SECONDS), shown::toString);
      assertEquals(0, talk.exitValue(), shown::toString);
      assertEquals(List.of("*IDN?", "*IDN?", "*RST?"), peer.heard());
      List<String> kept = Files.readAllLines(recording);
      assertEquals("millrace recording 1", kept.get(0));
      assertEquals(3, kept.stream().filter(l -> l.contains(" > ")).count(), kept::toString);
      assertEquals(3, kept.stream().filter(l -> l.contains(" < ")).count(), kept::toString);
    }
  }

  private Process onATerminal(Object... words) throws IOException {
    StringBuilder script = new StringBuilder("#!/bin/sh\nexport TERM=xterm\nexec ");
    script.append(quoted(Path.of(System.getProperty("java.home"), "bin", "java")));
    List<String> options =
        List.of(
            "--enable-native-access=ALL-UNNAMED",
            "-XX:TieredStopAtLevel=1",
            "-XX:+UseSerialGC",
            "-Dmillrace.terminal=true",
            "-Duser.home=" + folder,
            "-cp",
            System.getProperty("java.class.path"),
            "millrace.cli.Main");
    options.forEach(o -> script.append(' ').append(quoted(o)));
    for (Object word : words) {
      script.append(' ').append(quoted(word));
    }
    Path file = folder.resolve("talk.sh");
    Files.writeString(file, script);
    Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rwx------"));
    return new ProcessBuilder("socat", "-", "EXEC:" + file + ",pty,setsid,ctty,stderr")
        .redirectErrorStream(true)
        .start();
  }

  private static String quoted(Object word) {
    return "'" + word + "'";
  }

  /** Types as soon as the prompt stands there, and waits until something is shown behind it. */
  private void type(String keys, String until) throws IOException {
    awaits("x> ");
    talk.getOutputStream().write(keys.getBytes(StandardCharsets.UTF_8));
    talk.getOutputStream().flush();
    awaits(until);
  }

  private void awaits(String text) throws IOException {
    int from = shown.length();
    while (shown.indexOf(text, from) < 0) {
      int c = out.read();
      assertTrue(c >= 0, () -> "it ended: " + shown);
      shown.append((char) c);
    }
  }
}
