// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.code_intelligence.jazzer.junit.FuzzTest;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.params.provider.MethodSource;

/** Guided by coverage: the questions of every shipped driver find a finite number or none. */
class ReplyFuzzTest {
  private static final List<NumericQuery.Filled> QUESTIONS = questions();

  private static List<NumericQuery.Filled> questions() {
    try {
      return FuzzedReplyTest.questions();
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  static List<byte[]> replies() {
    return Stream.of("+1.000012E-03", "9.9E37", "23.4 degC", "OK", "010302FF9C", "TEMP 1,5\r")
        .map(text -> text.getBytes(StandardCharsets.ISO_8859_1))
        .toList();
  }

  @MethodSource("replies")
  @FuzzTest
  void holdsAFiniteNumberOrNone(byte[] bytes) {
    FuzzedReplyTest.check(QUESTIONS, new String(bytes, StandardCharsets.ISO_8859_1));
  }
}
