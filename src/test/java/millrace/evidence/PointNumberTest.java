// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class PointNumberTest {
  @Test
  void isReadAsItIsWritten() {
    for (PointNumber n : List.of(PointNumber.of(1), new PointNumber(37, 2))) {
      assertEquals(Optional.of(n), PointNumber.parse(n.text()));
    }
    assertEquals("37.2", new PointNumber(37, 2).text());
    assertEquals(Optional.of(PointNumber.of(37)), PointNumber.parse(" 37 "));
  }

  @Test
  void refusesWhatIsNone() {
    for (String text : List.of("", "0", "-1", "1.", "1.0", ".1", "a", "1.2.3", "99999999999")) {
      assertEquals(Optional.empty(), PointNumber.parse(text), text);
    }
    assertThrows(IllegalArgumentException.class, () -> PointNumber.of(0));
  }
}
