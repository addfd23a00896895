// SPDX-License-Identifier: Apache-2.0
package millrace.link;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import millrace.document.Hostile;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: a recording is read as what was written, or refused with its place. */
class LinkRecordingFuzzTest {
  static List<byte[]> recordings() {
    return Stream.of(
            LinkRecording.HEAD
                + "\n2026-11-25T21:07:03Z open tcp 127.0.0.1:5025\n"
                + "2026-11-25T21:07:03Z > READ?\\n\n2026-11-25T21:07:03Z < +1.0E-03\\x0a\\\\\n",
            LinkRecording.HEAD + "\r\nx with serial /dev/a\r\n\r\nx drop \\r\r\nx broke gone\r\n")
        .map(text -> text.getBytes(StandardCharsets.UTF_8))
        .toList();
  }

  @MethodSource("recordings")
  @FuzzTest
  void isReadOrRefused(byte[] bytes) {
    Hostile.refused("r.recording", bytes, LinkRecordingFuzzTest::readAndWrittenAgain);
  }

  private static void readAndWrittenAgain(byte[] bytes) {
    for (var event :
        LinkRecording.read("r.recording", new String(bytes, StandardCharsets.ISO_8859_1))) {
      assertEquals(event.bytes(), LinkRecording.unescaped(LinkRecording.escaped(event.bytes())));
    }
  }
}
