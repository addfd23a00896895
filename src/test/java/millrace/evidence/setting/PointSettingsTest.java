// SPDX-License-Identifier: Apache-2.0
package millrace.evidence.setting;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

class PointSettingsTest {
  private static final Map<String, String> STORED = stored();

  private static Map<String, String> stored() {
    Map<String, String> words = new LinkedHashMap<>();
    words.put("current meter range", "2 mA");
    words.put("current meter cycles", "10");
    words.put("current meter autozero", "1");
    words.put("current meter resolution", "1e-9");
    words.put("current meter shunt", "100 ohm");
    words.put("voltmeter range", "10 V");
    words.put("voltmeter input", "10000000");
    words.put("check standard", "steady");
    return words;
  }

  @Test
  void whatWasStoredIsReadOnceAndStoredTheSameAgain() {
    PointSettings read = PointSettings.of(STORED);
    assertEquals("2 mA", read.currentMeter().range());
    assertEquals(OptionalDouble.of(10), read.currentMeter().lineCycles());
    assertEquals(OptionalDouble.of(1e-9), read.currentMeter().resolution());
    assertEquals(OptionalDouble.of(100), read.currentMeter().shuntOhm());
    assertEquals(Map.of("autozero", "1"), read.currentMeter().others());
    assertEquals("10 V", read.voltmeter().range());
    assertEquals(OptionalDouble.of(1e7), read.voltmeter().inputOhm());
    assertEquals(Optional.of("steady"), read.checkStandard());
    assertEquals(STORED, read.words());
  }

  @Test
  void whatIsNoNumberStaysAWord() {
    Map<String, String> words =
        Map.of("cycles", "MED", "resolution", "0", "input", "high", "shunt", "the small one");
    MeterSettings read = MeterSettings.of(words);
    assertEquals(OptionalDouble.empty(), read.lineCycles());
    assertEquals(OptionalDouble.empty(), read.resolution());
    assertEquals(OptionalDouble.empty(), read.inputOhm());
    assertEquals(OptionalDouble.empty(), read.shuntOhm());
    assertEquals(words, read.words());
  }

  @Test
  void theStepThatTheMeterSaysCountsBeforeThatOfItsDriver() {
    MeterSettings says = MeterSettings.of(Map.of("resolution", "2e-9"));
    assertEquals(says, says.orResolution(OptionalDouble.of(1e-9)));
    assertEquals(
        OptionalDouble.of(1e-9),
        MeterSettings.NONE.orResolution(OptionalDouble.of(1e-9)).resolution());
  }
}
