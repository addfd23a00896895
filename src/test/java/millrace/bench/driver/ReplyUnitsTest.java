// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.util.Map;
import millrace.bench.role.RoleName;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A number of a reply counts in what the driver file says, or it is none. */
class ReplyUnitsTest {
  private static String read(RoleName role, String keys, String reply) {
    String head = "driver: d\n%s:\n".formatted(role.text());
    String rest =
        role == RoleName.CURRENT_METER ? "  prepare: []\n  ranges: [{full scale: 1 mA}]\n" : "";
    String yaml = head + "  read: {ask: '?'%s}\n".formatted(keys) + rest;
    return DriverForms.DRIVER
        .readFile("d.yaml", yaml.getBytes(StandardCharsets.UTF_8))
        .roles()
        .get(role)
        .questions()
        .get("read")
        .filled(Map.of())
        .count(reply)
        .map(counted -> String.valueOf(counted.inBaseUnits()))
        .orElse("none");
  }

  /** Where a file allows no unit, whatever stands behind a number makes garbage of it. */
  @ParameterizedTest
  @CsvSource({
    "0.001, 0.001",
    " +1.0E-03 , 0.001",
    "1000 uA, none",
    "1000uA, none",
    "0.001 A, none",
    "0.001 banana, none",
    "0.001 0.002, none",
    "0.001;, none",
  })
  void withoutUnitsANumberStandsAlone(String reply, String expected) {
    assertEquals(expected, read(RoleName.CURRENT_METER, "", reply));
  }

  @ParameterizedTest
  @CsvSource({
    "73.4, 73.4",
    "73.4 F, none",
    "73.4 degF, none",
    "23 degC, none",
    "23 C, none",
  })
  void degreesOfAnotherKindAreNeverTakenForOurs(String reply, String expected) {
    assertEquals(expected, read(RoleName.UNIT_THERMOMETER, "", reply));
  }

  /** The factors are those of the SI prefixes. */
  @ParameterizedTest
  @CsvSource({
    "1000 uA, 0.001",
    "1000uA, 0.001",
    "99.5 uA, 9.95E-5",
    "+1.25E+00 mA, 0.00125",
    "1.5e1MADC, 0.015",
    "1000, none",
    "1000 A, none",
    "1000 UA, none",
    "1000 uA x, none",
    "uA, none",
    "1 000 uA, none",
    "'1,5 mA', none",
  })
  void listedUnitsAreConvertedAndANumberAloneIsNone(String reply, String expected) {
    String units = ", units: {uA: uA, mA: mA, MADC: mA}";
    assertEquals(expected, read(RoleName.CURRENT_METER, units, reply));
  }

  @ParameterizedTest
  @CsvSource({
    "', unit: uA', 1000, 0.001",
    "', unit: uA', 1000 uA, none",
    "', unit: uA, units: mA', 1000, 0.001",
    "', unit: uA, units: [mA]', 1 mA, 0.001",
    "', unit: uA, units: [mA]', 1000 uA, none",
    "', number: ''^I=(.*)$'', units: [mA]', I= 1 mA, 0.001",
    "', number: ''^I=(.*) mA$'', unit: mA', I=1 mA, 0.001",
    "', number: ''^I=(.*) mA$'', unit: mA', I=1 uA, none",
  })
  void aFileSaysWhatANumberAloneCounts(String keys, String reply, String expected) {
    assertEquals(expected, read(RoleName.CURRENT_METER, keys, reply));
  }

  /** A pattern that finds its number somewhere would take 73.4 out of '73.4 F'. */
  @ParameterizedTest
  @CsvSource({
    "'([0-9.]+)', 73.4, 73.4",
    "'([0-9.]+)', 73.4 F, none",
    "'T=([^ ]+)', T=40 L=22, none",
    "'T=([^ ]+) L=.*', T=40 L=22, 40.0",
    "'T=([^ ]+) L=.*', xT=40 L=22, none",
  })
  void whatAPatternLeavesOverIsGarbage(String pattern, String reply, String expected) {
    assertEquals(
        expected, read(RoleName.UNIT_THERMOMETER, ", number: '%s'".formatted(pattern), reply));
  }
}
