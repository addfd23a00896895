// SPDX-License-Identifier: Apache-2.0
package millrace.terminal;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class WrappedTest {
  @Test
  void aLineIsBrokenBetweenWordsAndGoesOnDeeper() {
    assertEquals("Look at: the\n  resistor R5", Wrapped.at(14, "Look at: the resistor R5"));
    assertEquals("  in: a\n    path", Wrapped.at(8, "  in: a path"));
  }

  @Test
  void aWordThatIsLongerThanALineStaysWhole() {
    assertEquals("see\n  FX3-00001-long\n  now", Wrapped.at(8, "see FX3-00001-long now"));
    assertEquals("", Wrapped.at(8, ""));
  }
}
