// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.bench.driver.Drivers;
import millrace.bench.role.RoleName;
import millrace.fault.BadInputException;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class BenchFormsTest {
  private static final String SHUNT =
      "wiring: {shunt: {value: 100 ohm, u: 5 ppm, tempco: 3 ppm/K}}\n";

  private static BenchFile read(String yaml) {
    return BenchForms.read("b.yaml", yaml.getBytes(StandardCharsets.UTF_8));
  }

  private static String instruments(String lines) {
    return "bench: b\ninstruments:\n" + lines.indent(2);
  }

  static Stream<Arguments> faults() {
    return Stream.of(
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a', roles: {voltmeter: {}}}"),
            "b.yaml:3:27: 'tcp a' is no address; expected 'tcp HOST:PORT', or 'serial PORT"),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {switch: {}}}"),
            "b.yaml:3:6: 'm' is a switch, and nothing says which position connects the unit;"
                + " expected a slot for each unit, also where there is only one. Add 'slots: {NAME:"
                + " POSITION}'."),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {}}"),
            "b.yaml:3:45: an instrument without a role"),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {volt meter: {}}}"),
            "unknown key 'volt meter' in roles"),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {voltmeter: {}}}"),
            "b.yaml:3:6: 'm' is a voltmeter, and nothing says where it sits; expected 'upstream' or"
                + " 'across load', since its own current counts or does not. Add 'wiring:"
                + " {voltmeter: ...}'."),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {shunt voltmeter: {}}}"),
            "b.yaml:3:6: 'm' reads a shunt, and nothing says what shunt; expected its value"),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {current meter: {}}}") + SHUNT,
            "b.yaml: its wiring has a shunt, and no instrument reads it; expected an instrument"
                + " with the role 'shunt voltmeter'."),
        Arguments.of(
            instruments(
                    "m: {driver: d, address: 'tcp a:1', roles: {shunt voltmeter: {}}}\n"
                        + "n: {driver: d, address: 'tcp a:2', roles: {current meter: {}}}")
                + SHUNT,
            "b.yaml:3:6: 'm' reads the current through a shunt, and 'n' is a current meter;"
                + " expected one of both. Take out the other"),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {shunt voltmeter: {}}}") + SHUNT,
            "b.yaml:3:6: 'm' reads a shunt that goes with its temperature, and nothing reads"
                + " that; expected an instrument with the role 'shunt thermometer'."),
        Arguments.of(
            instruments(
                "m: {driver: d, address: 'tcp a:1', roles: {load: {}}}\n"
                    + "n: {driver: d, address: 'tcp a:2', roles: {load: {}}}"),
            "b.yaml:4:6: 'n' is a second load; expected one, and 'm' has the role already."),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {load: {}}}")
                + "slots: {A: '1'}\n",
            "b.yaml: it has slots or check standards, and no instrument that is switch"),
        Arguments.of(
            instruments("m: {driver: d, address: 'tcp a:1', roles: {load: {}}}")
                + "safe order: [n]\n",
            "b.yaml: the safe order names 'n', which is no instrument; expected 'm'."),
        Arguments.of(
            instruments(
                "m: {driver: d, address: 'tcp a:1', roles: {load: {decades: [{from: 0 ohm, "
                    + "voltage: 10 V, power: 1 W}]}}}"),
            "a decade of 0.0 ohm that bears 10.0 V and 1.0 W; expected all above 0."),
        Arguments.of(
            instruments(
                "m: {driver: d, address: 'tcp a:1', roles: {load: {}}, certificate: "
                    + "{laboratory: l, number: n, due: 31.3.2027}}"),
            "'31.3.2027' is no date; expected one as in 2027-03-31."));
  }

  @ParameterizedTest
  @MethodSource("faults")
  void saysWhereAndWhatIsWrong(String yaml, String message) {
    String found = assertThrows(BadInputException.class, () -> read(yaml)).getMessage();
    assertTrue(found.contains(message), found);
  }

  @Test
  void aLoadBoxKnowsItsValuesAndWhatItsDecadesBear() {
    BenchFile bench =
        read(
            instruments(
                """
                box:
                  driver: plain decade load
                  address: tcp a:1
                  identity: DL-7
                  roles:
                    load:
                      residual: 20 mohm
                      leakage: 200 Gohm
                      values:
                        - {nominal: 1 kohm, value: 1000.12 ohm, u: 4 mohm, k: 2, tempco: 5 ppm/K}
                        - {nominal: 100 ohm, value: 99.98 ohm, u: 2 mohm}
                      decades:
                        - {from: 100 ohm, voltage: 20 V, power: 0.5 W}
                        - {from: 1 kohm, voltage: 50 V, power: 0.5 W}
                  certificate: {laboratory: Osk Harbour Calibration (invented), number: 7, due: 2026-11-24}
                """));
    BenchFile.Entry entry = bench.in(RoleName.LOAD).orElseThrow();
    LoadProperties box = entry.roles().get(RoleName.LOAD).box();
    LoadProperties.Value value = box.calibrated(1000).orElseThrow();
    assertEquals(2e-3, value.standardUncertaintyOhm(), 1e-15);
    assertEquals(1000.12 * (1 + 5e-6 * 10), value.atOhm(33), 1e-9);
    assertEquals(Optional.empty(), box.calibrated(4700));
    assertEquals(50, box.bears(4700).orElseThrow().mostV());
    assertEquals(Optional.empty(), box.bears(10));
    assertTrue(box.overloaded(100, 0.1));
    assertFalse(box.overloaded(100, 0.05));
    assertTrue(entry.certificate().orElseThrow().overdueOn(LocalDate.of(2026, 11, 25)));
    assertFalse(entry.certificate().orElseThrow().overdueOn(LocalDate.of(2026, 11, 24)));
  }

  @Test
  void aDriverThatIsMissingOrCannotIsNamedBeforeAnythingIsTouched() {
    assertEquals(
        "b.yaml:3:6: there is no driver 'scpi metre' in drivers; expected 'by hand', 'digital"
            + " output range selector', 'modbus ascii temperature controller', 'modbus rtu"
            + " temperature controller', 'plain chamber', 'plain decade load', 'plain range"
            + " selector', 'plain thermometer', 'relay load board', 'scpi meter', 'scpi supply' or"
            + " 'scpi switch'. Did you mean 'scpi meter'?",
        opening(instruments("m: {driver: scpi metre, address: 'tcp a:1', roles: {load: {}}}")));
    assertEquals(
        "b.yaml:3:6: 'm' is to be load, but driver 'scpi meter' cannot; expected a driver with that"
            + " role.",
        opening(instruments("m: {driver: scpi meter, address: 'tcp a:1', roles: {load: {}}}")));
    assertEquals(
        "b.yaml:3:6: driver 'scpi meter' knows no setting 'speed'; expected no settings.",
        opening(
            instruments(
                "m: {driver: scpi meter, address: 'tcp a:1', settings: {speed: 1}, roles: {current"
                    + " meter: {}}}")));
    assertEquals(
        "b.yaml:3:6: the output is to be shorted before a change, but driver 'by hand' cannot;"
            + " expected a load that can, or 'before a change: source off'.",
        opening(
            instruments("m: {driver: by hand, address: by hand, roles: {load: {}}}")
                + "before a change: short output\n"));
  }

  private static String opening(String yaml) {
    VirtualClock clock = new VirtualClock(Instant.EPOCH);
    Drivers drivers = Drivers.load(Path.of("drivers"));
    return assertThrows(BadInputException.class, () -> Bench.open(read(yaml), drivers, clock))
        .getMessage();
  }
}
