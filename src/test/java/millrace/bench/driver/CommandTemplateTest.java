// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import millrace.quantity.Dimension;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CommandTemplateTest {
  private static final Map<String, Dimension> KNOWN =
      Map.of(
          "i", Dimension.CURRENT,
          "t", Dimension.TEMPERATURE,
          "r", Dimension.RESISTANCE,
          "w", Dimension.NUMBER);

  @ParameterizedTest
  @CsvSource(
      delimiter = ';',
      value = {
        "CURR {i}; 1.5e-3; CURR 0.0015",
        "CURR {i:uA}; 1.5e-4; CURR 150",
        "CURR {i:uA.3}; 1.23456e-4; CURR 123.456",
        "CURR {i:A|e5}; -1.23456789e-4; CURR -1.23457E-04",
        "{i:mA}mA; 3e-4; 0.3mA",
        "SV{t:0.1 degC|x4}; 23.4; SV00EA",
        "SV{t:0.1 degC|x4}; -12.3; SVFF85",
        "SV{t:0.1 degC|d5}; 23.4; SV00234",
        "SV{t:0.1 degC|d5}; -23.4; SV-0234",
        "SV{t:degC.1}; -0.04; SV0.0",
        "SV{t:degC|+f2}; 23.4; SV+23.40",
        "SV{t:degC|+f2}; -5; SV-5.00",
        "SV{t:degC|+f1}; -0.04; SV+0.0",
        "SV{t:0.1 degC|+d4}; 23.4; SV+0234",
        "T={t:degC|+3f1}; 23; T=+023.0",
        "T={t:degC|+3f1}; -5.46; T=-005.5",
        "T={t:degC|3f0}; -5; T=-005",
        "T={t:degC|2f1}; 123.4; T=123.4",
        "APER {w:50|f3}; 10; APER 0.200",
        "APER {w:50}; 10; APER 0.2",
        "FILTER {w:0.02}; 1; FILTER 50",
        "R {r:.1}; 4700; R 4700.0",
        "R {r:ohm|d7}; 4700; R 0004700",
        "R {r}; 1e9; R 1000000000",
        "{w|x2}; 17; 11"
      })
  void aNumberIsPrintedAsItsPlaceholderAsks(String template, double value, String command) {
    CommandTemplate parsed = CommandTemplate.parse(template, KNOWN);
    assertEquals(command, parsed.fill(Map.of("i", value, "t", value, "r", value, "w", value)));
  }

  @Test
  void aWordIsPutInAsItIsAndCountedWhereAFormatAsks() {
    Map<String, Dimension> known = Map.of("address", Dimension.NUMBER);
    assertEquals("@7 ", CommandTemplate.parse("@{address} ", known).fill(Map.of("address", "7")));
    assertEquals("@07", CommandTemplate.parse("@{address|x2}", known).fill(Map.of("address", "7")));
    assertThrows(
        IllegalArgumentException.class,
        () -> CommandTemplate.parse("@{address|x2}", known).fill(Map.of("address", "seven")));
  }

  @Test
  void aNumberThatDoesNotFitItsDigitsIsRefused() {
    CommandTemplate template = CommandTemplate.parse("SV{t:0.1 degC|x4}", KNOWN);
    String message =
        assertThrows(IllegalArgumentException.class, () -> template.fill(Map.of("t", 6554.0)))
            .getMessage();
    assertEquals("the number 65540 does not fit into 4 hex digits", message);
  }

  @Test
  void aFormatThatThereIsNotIsRefusedWithThoseThereAre() {
    String message =
        assertThrows(
                IllegalArgumentException.class, () -> CommandTemplate.parse("{t:degC|+x4}", KNOWN))
            .getMessage();
    assertEquals(
        "'{...degC|+x4}' is printed as '+x4'; expected f0 to f15, e0 to e15, d1 to d15 or x1 to"
            + " x15, with a + before f, e or d where a plus sign is to be shown; 3f1 has three"
            + " digits before the point",
        message);
  }

  @Test
  void whatIsPutIntoAPatternStandsForItself() {
    CommandTemplate template = CommandTemplate.parse("^RANGE {w}$", KNOWN);
    assertTrue(template.pattern(Map.of("w", "1.A*")).matcher("RANGE 1.A*").find());
    assertEquals(false, template.pattern(Map.of("w", "1.A*")).matcher("RANGE 1xA").find());
  }
}
