// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.lang.reflect.Method;
import java.nio.file.Path;
import java.util.List;
import millrace.bench.Table.Way;
import millrace.bench.driver.Drivers;
import millrace.bench.role.Chamber;
import millrace.bench.role.Instrument;
import millrace.bench.role.RoleName;
import millrace.bench.role.Supply;
import millrace.fault.BadInputException;
import millrace.fault.InstrumentException;
import millrace.link.LinkAddress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What an instrument may be told, judged by what it heard. */
@Timeout(60)
class InstrumentLimitsIT {
  private static final String BENCH =
      """
      bench: table
      instruments:
        x: {driver: %s, address: '%s', roles: {%s}}
      """;

  private static String answer(String line) {
    return line.contains("?") ? "0,\"No error\"\n" : "";
  }

  @Test
  void aSupplyNeverHearsAVoltageBeyondWhatItIsAllowed() throws Exception {
    try (Table table = new Table()) {
      LinkAddress address = table.put(Way.SOCKET, (line, mouth) -> mouth.say(answer(line)));
      Bench bench =
          table.bench(
              BENCH.formatted(
                  "scpi supply", address, "supply: {at most: {voltage: 30 V, current: 100 mA}}"));
      Supply supply = bench.in(RoleName.SUPPLY, Supply.class).orElseThrow();
      assertEquals(
          "supply 'x' (%s): was to be set to 150 V, which was not sent; expected at most 30 V, as the bench file allows. Ask for less, or change the bench file after thinking about it."
              .formatted(address),
          assertThrows(InstrumentException.class, () -> supply.set(150)).getMessage());
      assertThrows(InstrumentException.class, () -> supply.limit(0.2));
      assertTrue(table.heard().stream().noneMatch(l -> l.startsWith("VOLT")), "" + table.heard());
      supply.set(30);
      assertEquals(
          List.of("CURR 0.1", "VOLT 30"),
          table.heard().stream().filter(l -> l.matches("(VOLT|CURR) .*")).toList());
    }
  }

  @Test
  void aChamberHearsNoSetPointOutsideAndNoFasterRamp() throws Exception {
    try (Table table = new Table()) {
      LinkAddress address =
          table.put(
              Way.SOCKET, (line, mouth) -> mouth.say(line.equals("SET?") ? "60.00\n" : "OK\n"));
      Bench bench =
          table.bench(
              BENCH.formatted(
                  "plain chamber",
                  address,
                  "chamber: {between: [-20 degC, 70 degC], ramp at most: 3 K/min}"));
      Chamber chamber = bench.in(RoleName.CHAMBER, Chamber.class).orElseThrow();
      String beyond =
          assertThrows(
                  InstrumentException.class, () -> chamber.setpoint(300, Double.POSITIVE_INFINITY))
              .getMessage();
      assertTrue(
          beyond.contains("300 degC, which was not sent; expected from -20 degC to 70"), beyond);
      chamber.setpoint(60, Double.POSITIVE_INFINITY);
      chamber.setpoint(60, 1);
      assertEquals(
          List.of("RAMP 3.000", "SET 60.00", "RAMP 3.000", "SET 60.00"),
          table.heard().stream().filter(l -> l.matches("(RAMP|SET) .*")).toList());
    }
  }

  @Test
  void aSafeStateOutsideWhatIsAllowedIsNotSentEither() throws Exception {
    try (Table table = new Table()) {
      LinkAddress address = table.put(Way.SOCKET, (line, mouth) -> mouth.say("OK\n"));
      Bench bench =
          table.bench(
              BENCH.formatted("plain chamber", address, "chamber: {between: [30 degC, 70 degC]}"));
      assertTrue(bench.makeSafe().get(0).trouble().orElseThrow().contains("23 degC"));
      assertEquals(List.of(), table.heard());
    }
  }

  @Test
  void aSafeStateOutsideWhatIsAllowedIsRefusedBeforeANight() throws Exception {
    try (Table table = new Table()) {
      String yaml =
          BENCH.formatted("plain chamber", "tcp a:1", "chamber: {between: [%s, 70 degC]}");
      table.bench(yaml.formatted("0 degC")).refuseSafeBeyond();
      Bench bench = table.bench(yaml.formatted("30 degC"));
      assertEquals(
          "bench.yaml:3:6: the safe state sets 'x' to 23 degC; expected from 30 degC to 70 degC, as"
              + " the bench file allows. Change what is allowed, or the safe state by a setting or"
              + " in the driver.",
          assertThrows(BadInputException.class, bench::refuseSafeBeyond).getMessage());
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "scpi supply|supply: {at most: {voltage: 30 V, current: 1 A}}|VOLT 31",
        "scpi supply|supply: {at most: {voltage: 30 V, current: 1 A}}|OUTP OFF;:sour:volt 1e3",
        "scpi supply|supply: {at most: {voltage: 30 V, current: 1 A}}|VOLT MAX",
        "plain chamber|chamber: {between: [0 degC, 70 degC], ramp at most: 3 K/min}|SET 300",
        "plain chamber|chamber: {between: [0 degC, 70 degC], ramp at most: 3 K/min}|RAMP 4.0",
        "modbus rtu temperature controller|chamber: {between: [0 degC, 70 degC]}|0106000102BD",
        "modbus rtu temperature controller|chamber: {between: [0 degC, 70 degC]}|01060001FFFF",
      })
  void aTypedLineThatSetsMoreIsHeldBack(String driver, String role, String line) throws Exception {
    try (Table table = new Table()) {
      Bench bench = table.bench(BENCH.formatted(driver, "tcp 127.0.0.1:1", role));
      Drivers drivers = Drivers.load(Path.of("drivers"));
      var settings = bench.file().instruments().get("x").settings();
      assertThrows(
          InstrumentException.class,
          () -> drivers.refuseBeyond(driver, settings, line, bench.gate("x")));
    }
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "scpi supply|supply: {at most: {voltage: 30 V, current: 1 A}}|VOLT 30",
        "scpi supply|supply: {at most: {voltage: 30 V, current: 1 A}}|VOLT?",
        "scpi supply|supply: {at most: {voltage: 30 V, current: 1 A}}|MEAS:VOLT?",
        "plain chamber|chamber: {between: [0 degC, 70 degC], ramp at most: 3 K/min}|SET?",
        "plain chamber|chamber: {between: [0 degC, 70 degC], ramp at most: 3 K/min}|SET 70",
        "modbus rtu temperature controller|chamber: {between: [0 degC, 70 degC]}|0106000102BC",
        "scpi supply|supply: {}|VOLT 1000",
      })
  void whatIsAllowedOrNotStatedPasses(String driver, String role, String line) throws Exception {
    try (Table table = new Table()) {
      Bench bench = table.bench(BENCH.formatted(driver, "tcp 127.0.0.1:1", role));
      Drivers drivers = Drivers.load(Path.of("drivers"));
      var settings = bench.file().instruments().get("x").settings();
      assertDoesNotThrow(() -> drivers.refuseBeyond(driver, settings, line, bench.gate("x")));
    }
  }

  @Test
  void halfOfASupplysBoundIsRefusedWithItsPlace() {
    String message =
        assertThrows(
                BadInputException.class,
                () ->
                    new Table()
                        .bench(
                            BENCH.formatted(
                                "scpi supply", "tcp a:1", "supply: {at most: {voltage: 30 V}}")))
            .getMessage();
    assertTrue(message.startsWith("bench.yaml:3:"), message);
    assertTrue(message.contains("'current'"), message);
  }

  /** What an instrument learns to do later must not stop at the one who holds it back. */
  @Test
  void whoHoldsAnInstrumentBackHandsOnEverythingElse() throws NoSuchMethodException {
    for (Method method : Instrument.class.getMethods()) {
      assertEquals(
          GuardedInstrument.class,
          GuardedInstrument.class
              .getMethod(method.getName(), method.getParameterTypes())
              .getDeclaringClass(),
          method.getName());
    }
  }
}
