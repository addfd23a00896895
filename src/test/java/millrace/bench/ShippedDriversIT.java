// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import millrace.bench.Table.Way;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Chamber;
import millrace.bench.role.Instrument;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.fault.InstrumentException;
import millrace.link.LinkAddress;
import millrace.link.Peer;
import millrace.quantity.NumberText;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * Shipped drivers against instruments that take their protocol strictly, over a socket and over a
 * pair of pseudo-terminals; those of the simulated bench are tried in {@link SimulatedBenchIT}.
 */
@Timeout(60)
class ShippedDriversIT {
  @TempDir private Path folder;
  @AutoClose private final Table table = new Table();

  /** A controller on a line of its own, whose check digits are computed here a second time. */
  private static final class ModbusController implements BiConsumer<String, Peer.Mouth> {
    private final Map<String, Integer> registers =
        new TreeMap<>(Map.of("01/0000", 215, "01/0001", 230, "02/0000", -404));
    private boolean wrongCheck;

    @Override
    public void accept(String line, Peer.Mouth mouth) {
      if (line.isEmpty()) {
        return;
      }
      String body = line.substring(1, line.length() - 2);
      if (line.charAt(0) != ':' || !line.endsWith(lrc(body))) {
        return;
      }
      String answer = answer(body);
      String check = wrongCheck ? "00" : lrc(answer);
      wrongCheck = false;
      mouth.say(":" + answer + check + "\r\n");
    }

    private String answer(String body) {
      String key = body.substring(0, 2) + "/" + body.substring(4, 8);
      Integer value = registers.get(key);
      if (value == null) {
        return body.substring(0, 2) + "8" + body.charAt(3) + "02";
      }
      if (body.startsWith("03", 2)) {
        return body.substring(0, 4) + "02" + "%04X".formatted(value & 0xffff);
      }
      registers.put(key, (int) (short) Integer.parseInt(body.substring(8), 16));
      return body;
    }

    static String lrc(String body) {
      int sum = 0;
      for (int i = 0; i < body.length(); i += 2) {
        sum += Integer.parseInt(body.substring(i, i + 2), 16);
      }
      return "%02X".formatted(256 - sum % 256 & 0xff);
    }
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void aModbusControllerIsSetAndReadInTenthsOfADegree(Way way) throws Exception {
    ModbusController controller = new ModbusController();
    Instrument x =
        table.instrument(
            "modbus ascii temperature controller", table.put(way, controller), "chamber", "");
    Chamber chamber = x.in(RoleName.CHAMBER, Chamber.class).orElseThrow();
    chamber.setpoint(-12.3, Double.POSITIVE_INFINITY);
    assertEquals(-123, controller.registers.get("01/0001"));
    assertEquals(21.5, number(chamber.read()), 1e-12);
    x.makeSafe(Bench.SAFE_WITHIN);
    assertEquals(230, controller.registers.get("01/0001"));
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void wrongCheckDigitsAreNeverATemperature(Way way) throws Exception {
    ModbusController controller = new ModbusController();
    Instrument x =
        table.instrument(
            "modbus ascii temperature controller", table.put(way, controller), "chamber", "");
    Chamber chamber = x.in(RoleName.CHAMBER, Chamber.class).orElseThrow();
    controller.wrongCheck = true;
    String message = assertThrows(InstrumentException.class, chamber::read).getMessage();
    assertTrue(
        message.contains("has check digits 00 instead of 23; expected right check digits"),
        message);
    assertEquals(21.5, number(chamber.read()), 1e-12);
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void twoControllersShareOneLine(Way way) throws Exception {
    LinkAddress address = table.put(way, new ModbusController());
    Bench bench =
        table.bench(
            """
            bench: bus
            instruments:
              one: {driver: modbus ascii temperature controller, address: '%1$s', roles: {chamber: {}}}
              two: {driver: bus thermometer, address: '%1$s', roles: {unit thermometer: {}}}
            """
                .formatted(address),
            Drivers.load(withThermometer()),
            BenchOperator.NOBODY);
    Chamber one = bench.in(RoleName.CHAMBER, Chamber.class).orElseThrow();
    Sensor two = bench.in(RoleName.UNIT_THERMOMETER, Sensor.class).orElseThrow();
    for (int i = 0; i < 3; i++) {
      assertEquals(21.5, number(one.read()), 1e-12);
      assertEquals(-40.4, number(two.read()), 1e-12);
    }
  }

  /** The shipped controller and another driver for the same line. */
  private Path withThermometer() throws IOException {
    Path drivers = Files.createDirectory(folder.resolve("drivers"));
    Files.copy(
        Path.of("drivers/modbus-ascii-chamber.yaml"), drivers.resolve("modbus-ascii-chamber.yaml"));
    Files.writeString(
        drivers.resolve("bus-thermometer.yaml"),
        """
        driver: bus thermometer
        line ending: CRLF
        checksum: {kind: modbus lrc, before: ':'}
        unit thermometer:
          read: {ask: '020300000001', number: '^020302(.*)$', digits: hex, unit: 0.1 degC}
        """);
    return drivers;
  }

  /** A board that knows its relays and insists on CR. */
  private static final class RelayBoard implements BiConsumer<String, Peer.Mouth> {
    private final TreeSet<String> closed = new TreeSet<>();
    private boolean everOpen;

    @Override
    public void accept(String line, Peer.Mouth mouth) {
      String[] words = line.split(" ");
      String answer =
          switch (words[0]) {
            case "WHO" -> "relay board, 8 relays";
            case "ON" -> on(words[1]);
            case "ONLY" -> only(words[1]);
            case "OFF" -> off(words[1]);
            case "LIST" -> "closed: " + String.join(" ", closed);
            default -> "?";
          };
      everOpen |= closed.isEmpty() && !words[0].equals("WHO");
      mouth.say(answer + "\r");
    }

    private String on(String relay) {
      closed.add(relay);
      return "on " + relay;
    }

    private String only(String relay) {
      closed.retainAll(java.util.Set.of(relay));
      return on(relay);
    }

    private String off(String relay) {
      closed.remove(relay);
      return "off " + relay;
    }
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void aRelayBoardIsSetToItsOwnResistancesAndNeverOpens(Way way) throws Exception {
    RelayBoard board = new RelayBoard();
    Instrument x =
        table.instrument(
            "relay load board",
            table.put(way, board),
            "load",
            "words: {100 ohm: '1', 1 kohm: '2', 10 kohm: '3'}");
    Load load = x.in(RoleName.LOAD, Load.class).orElseThrow();
    assertEquals(List.of(100.0, 1000.0, 10_000.0), load.settingsOhm());
    load.set(1000);
    load.set(10_000);
    assertEquals("[3]", board.closed.toString());
    load.shortCircuit(true);
    load.set(100);
    assertTrue(board.closed.contains("1"));
    x.makeSafe(Bench.SAFE_WITHIN);
    assertTrue(board.closed.contains("0"));
    assertEquals(false, board.everOpen);
    assertEquals(
        "load 'x' (%s): cannot be set to 4.7 kohm; expected one of 100 ohm, 1 kohm, 10 kohm. Check"
                .formatted(address(x))
            + " the instrument's display.",
        assertThrows(InstrumentException.class, () -> load.set(4700)).getMessage());
  }

  private static String address(Instrument x) {
    return assertThrows(InstrumentException.class, () -> load(x).set(1.5))
        .trouble()
        .orElseThrow()
        .address();
  }

  private static Load load(Instrument x) {
    return x.in(RoleName.LOAD, Load.class).orElseThrow();
  }

  /** Eight outputs; it echoes what it was told, as many such boxes do. */
  private static final class Outputs implements BiConsumer<String, Peer.Mouth> {
    private String port = "0x00";
    private String enable = "0";
    private boolean stuck;

    @Override
    public void accept(String line, Peer.Mouth mouth) {
      if (line.isEmpty()) {
        return;
      }
      if (line.equals("I")) {
        mouth.say("digital outputs v2\r\n");
      } else if (line.equals("P?")) {
        mouth.say("P=" + port + "\r\n");
      } else {
        port = line.startsWith("P=") && !stuck ? line.substring(2) : port;
        enable = line.startsWith("B7=") ? line.substring(3) : enable;
        mouth.say(line + "\r\n");
      }
    }
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void digitalOutputsSelectRangesByThePatternsOfTheBenchFile(Way way) throws Exception {
    Outputs outputs = new Outputs();
    Instrument x =
        table.instrument(
            "digital output range selector",
            table.put(way, outputs),
            "range selector",
            "words: {1mA: '0x01', 100uA: '0x02'}");
    RangeSelector selector = x.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow();
    selector.select("100uA");
    selector.output(true);
    assertEquals("0x02/1", outputs.port + "/" + outputs.enable);
    String unknown =
        assertThrows(InstrumentException.class, () -> selector.select("10mA")).getMessage();
    assertTrue(
        unknown.endsWith(
            "the bench file has no word for '10mA'; expected '100uA' or '1mA'. Add it under"
                + " 'words:' of 'x' in the bench file."),
        unknown);
    outputs.stuck = true;
    String stuck =
        assertThrows(InstrumentException.class, () -> selector.select("1mA")).getMessage();
    assertTrue(stuck.contains("answered \"P=0x02\" to \"P?\"; expected a reply that"), stuck);
    x.makeSafe(Bench.SAFE_WITHIN);
    assertEquals("0", outputs.enable);
  }

  /** A meter with an error queue, which never forgives. */
  private static final class StrictMeter implements BiConsumer<String, Peer.Mouth> {
    private final java.util.ArrayDeque<String> queue = new java.util.ArrayDeque<>();
    private double range = 20e-3;
    private String cycles = "+1.00000000E+00";
    private String reading = "+1.00012345E-03";
    private int events = 128;
    private Optional<OneQuestion> manner = Optional.empty();

    /** Several commands in a line, of which headers go on where the one before ended. */
    @Override
    public void accept(String line, Peer.Mouth mouth) {
      List<String> replies = new ArrayList<>();
      String path = "";
      for (String unit : line.split(";")) {
        boolean whole = unit.startsWith("*") || unit.startsWith(":");
        String full = (whole ? unit : path + unit).replaceFirst("^:", "");
        done(full).ifPresent(replies::add);
        path = unit.startsWith("*") ? path : full.substring(0, full.lastIndexOf(':') + 1);
      }
      if (line.contains(";") && manner.isPresent()) {
        manner.get().to(replies).forEach(reply -> mouth.say(reply + "\n"));
      } else if (!replies.isEmpty()) {
        mouth.say(String.join(";", replies) + "\n");
      }
    }

    private Optional<String> done(String unit) {
      String[] words = unit.split(" ");
      switch (words[0]) {
        case "*CLS" -> clear();
        case "SENS:CURR:DC:RANG" -> range(words[1]);
        case "SENS:CURR:DC:NPLC" -> cycles = words[1];
        default -> {
          return asked(unit);
        }
      }
      return Optional.empty();
    }

    private Optional<String> asked(String question) {
      return switch (question) {
        case "*IDN?" -> Optional.of("TABLE,CM,1,0");
        case "*ESR?" -> {
          String before = Integer.toString(events);
          events = 0;
          yield Optional.of(before);
        }
        case "SYST:ERR?" -> Optional.of(queue.isEmpty() ? "+0,\"No error\"" : queue.pop());
        case "SENS:CURR:DC:RANG?" -> Optional.of(NumberText.format("%.8E", range));
        case "SENS:CURR:DC:NPLC?" -> Optional.of(cycles);
        case "SENS:CURR:DC:ZERO:AUTO?" -> Optional.of("1");
        case "READ?" -> Optional.of(reading);
        default -> {
          queue.add("-113,\"Undefined header;" + question + "\"");
          yield Optional.empty();
        }
      };
    }

    private void clear() {
      queue.clear();
      events = 0;
    }

    private void range(String text) {
      double asked = Double.parseDouble(text);
      if (asked > 20e-3) {
        queue.add("-222,\"Data out of range\"");
      } else {
        range = asked <= 2e-3 ? 2e-3 : 20e-3;
      }
    }
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void aMeterIsPreparedReadAndReadBack(Way way) throws Exception {
    StrictMeter strict = new StrictMeter();
    Instrument x = table.instrument("scpi meter", table.put(way, strict), "current meter", "");
    Meter meter = meter(x);
    meter.prepare(meter.ranges().get(3), 10);
    assertEquals(new Reply.Number(1.00012345e-3, "+1.00012345E-03"), meter.read());
    assertEquals(
        Map.of("range", "2 mA", "cycles", "10", "autozero", "1"), meter.readBack().words());
    x.check();
    assertEquals(List.of(), x.errors());
    strict.queue.add("-350,\"Queue overflow\"");
    strict.queue.add("+42,\"Odd\"");
    assertEquals(List.of("-350,\"Queue overflow\"", "+42,\"Odd\""), x.errors());
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void complaintsOfAnEarlierUserAreToldAndSpoilNothing(Way way) throws Exception {
    StrictMeter strict = new StrictMeter();
    strict.queue.add("-350,\"Queue overflow\"");
    strict.queue.add("-113,\"Undefined header\"");
    Instrument x = table.instrument("scpi meter", table.put(way, strict), "current meter", "");
    Meter meter = meter(x);
    meter.prepare(meter.ranges().get(3), 10);
    assertEquals(
        List.of(
            "'x' had a complaint when it was opened: -350,\"Queue overflow\"",
            "'x' had a complaint when it was opened: -113,\"Undefined header\""),
        x.notes());
    assertEquals(List.of(), x.notes());
    strict.queue.add("-350,\"Queue overflow\"");
    strict.queue.add("+42,\"Odd\"");
    String message =
        assertThrows(InstrumentException.class, () -> meter.prepare(meter.ranges().get(3), 10))
            .getMessage();
    assertTrue(message.contains("Queue overflow\", +42,\"Odd\""), message);
    meter.prepare(meter.ranges().get(3), 10);
    assertEquals(new Reply.Number(1.00012345e-3, "+1.00012345E-03"), meter.read());
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void anInstrumentThatWasExchangedIsNamed(Way way) throws Exception {
    LinkAddress address = table.put(way, new StrictMeter());
    Bench bench =
        table.bench(
            "bench: b\ninstruments:\n  x: {driver: scpi meter, address: '"
                + address
                + "', identity: ',CM,2,', roles: {current meter: {}}}\n");
    assertEquals(
        "'x' (%s): the identity is \"TABLE,CM,1,0\"; expected one that matches ',CM,2,'."
                .formatted(address)
            + " Swapped cables are the commonest slip: see which instrument has this address, or"
            + " write its identity into the bench file if it was exchanged on purpose.",
        assertThrows(InstrumentException.class, bench::identify).getMessage());
  }

  @Test
  void theInstrumentWhoseCableWasSwappedIsNamed() throws Exception {
    LinkAddress address = table.put(Way.SOCKET, new StrictMeter());
    Bench bench =
        table.bench(
            """
            bench: b
            instruments:
              x: {driver: scpi meter, address: '%s', identity: ',CM,2,', roles: {current meter: {}}}
              y: {driver: scpi meter, address: 'tcp 127.0.0.1:1', identity: ',CM,1,', roles: {voltmeter: {}}}
            wiring: {voltmeter: upstream}
            """
                .formatted(address));
    String message =
        assertThrows(InstrumentException.class, () -> bench.identify("x")).getMessage();
    assertTrue(
        message.endsWith(
            "expected one that matches ',CM,2,'. That is how 'y' is to answer: swapped cables are"
                + " the commonest slip. Exchange them back, or the addresses in the bench file."),
        message);
  }

  /** The driver's own pattern: what came and what was wanted, after seven questions and no more. */
  @ParameterizedTest
  @EnumSource(Way.class)
  void anInstrumentOfAnotherKindIsToldByWhatItAnswers(Way way) throws Exception {
    int[] asked = {0};
    LinkAddress address =
        table.put(
            way,
            (line, mouth) -> {
              asked[0] += line.equals("*IDN?") ? 1 : 0;
              mouth.say("ERR unknown word\n");
            });
    Bench bench =
        table.bench(
            "bench: b\ninstruments:\n  x: {driver: scpi meter, address: '"
                + address
                + "', roles: {current meter: {}}}\n");
    String answered = "'x' (" + address + "): answered \"ERR unknown word\" to \"*IDN?\"; ";
    String expected = "expected an identity that matches '^[^,]+,[^,]+,'. ";
    String remedy =
        "Swapped cables are the commonest slip: see which instrument has this address, and that"
            + " driver 'scpi meter' is meant for it.";
    assertEquals(
        answered + expected + remedy,
        assertThrows(InstrumentException.class, bench::identify).getMessage());
    assertEquals(7, asked[0]);
  }

  private static Meter meter(Instrument x) {
    return x.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void overloadAndNotANumberAreToldApartInAnySpelling(Way way) throws Exception {
    StrictMeter strict = new StrictMeter();
    Meter meter =
        meter(table.instrument("scpi meter", table.put(way, strict), "current meter", ""));
    meter.prepare(meter.ranges().get(3), 10);
    for (String overload : List.of("9.9E37", "-9.90000000E+37", "+9.9e+037", "990e35")) {
      strict.reading = overload;
      assertEquals(new Reply.Overload(overload), meter.read());
    }
    for (String nothing : List.of("9.91E37", "+9.91000000E+37")) {
      strict.reading = nothing;
      assertEquals(new Reply.NotANumber(nothing), meter.read());
    }
    for (String off :
        List.of(
            "+1,00012345E-03",
            "",
            "1.0;2.0",
            "NAN",
            "1e999",
            "0x10",
            "\u0007",
            "1000 uA",
            "1.0E-03A",
            "0.001 banana")) {
      strict.reading = off.isEmpty() ? " " : off;
      assertEquals(new Reply.Malformed(strict.reading), meter.read());
    }
  }

  /** A point needs no question of its own for it, and the meter no second trip. */
  @ParameterizedTest
  @EnumSource(Way.class)
  void theLastReadingOfAPointTellsWhetherTheMeterWasSwitchedOffAndOn(Way way) throws Exception {
    StrictMeter strict = new StrictMeter();
    Instrument x = table.instrument("scpi meter", table.put(way, strict), "current meter", "");
    Meter meter = meter(x);
    meter.prepare(meter.ranges().get(3), 10);
    assertEquals(new Reply.Number(1.00012345e-3, "+1.00012345E-03"), meter.readLast());
    x.check();
    strict.events = 128;
    String message = assertThrows(InstrumentException.class, meter::readLast).getMessage();
    assertTrue(message.contains("the instrument was switched off and on"), message);
    meter.prepare(meter.ranges().get(3), 10);
    meter.readLast();
    meter.read();
    strict.events = 128;
    assertThrows(InstrumentException.class, x::check);
  }

  /** What instruments make of several questions in one line that take one. */
  private enum OneQuestion {
    A_LINE_EACH,
    THE_FIRST_ALONE,
    AN_ERROR,
    NOTHING;

    /** Its replies to such a line. */
    List<String> to(List<String> replies) {
      return switch (this) {
        case A_LINE_EACH -> replies;
        case THE_FIRST_ALONE -> replies.subList(0, 1);
        case AN_ERROR -> List.of("-102,\"Syntax error\"");
        case NOTHING -> List.of();
      };
    }
  }

  @ParameterizedTest
  @EnumSource(OneQuestion.class)
  void aMeterThatTakesOneQuestionALineIsUsedAllTheSame(OneQuestion manner) throws Exception {
    StrictMeter strict = new StrictMeter();
    strict.manner = Optional.of(manner);
    Instrument x =
        table.instrument("scpi meter", table.put(Way.SOCKET, strict), "current meter", "");
    Meter meter = meter(x);
    meter.prepare(meter.ranges().get(3), 10);
    assertEquals(
        Map.of("range", "2 mA", "cycles", "10", "autozero", "1"), meter.readBack().words());
    assertEquals(new Reply.Number(1.00012345e-3, "+1.00012345E-03"), meter.read());
    assertEquals(new Reply.Number(1.00012345e-3, "+1.00012345E-03"), meter.readLast());
    x.check();
    strict.events = 128;
    assertThrows(InstrumentException.class, x::check);
  }

  /** Two numbers where one is to be are none, whatever stands behind the second. */
  @ParameterizedTest
  @EnumSource(Way.class)
  void twoNumbersInTheLastReadingAreNone(Way way) throws Exception {
    StrictMeter strict = new StrictMeter();
    Instrument x = table.instrument("scpi meter", table.put(way, strict), "current meter", "");
    Meter meter = meter(x);
    meter.prepare(meter.ranges().get(3), 10);
    strict.reading = "1.0;2.0";
    assertTrue(meter.readLast() instanceof Reply.Malformed);
    x.check();
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void aMeterThatTakesAnotherRangeIsNotBelieved(Way way) throws Exception {
    StrictMeter strict = new StrictMeter();
    Meter meter =
        meter(table.instrument("scpi meter", table.put(way, strict), "current meter", ""));
    String message =
        assertThrows(InstrumentException.class, () -> meter.prepare(meter.ranges().get(0), 10))
            .getMessage();
    assertTrue(
        message.contains("reads back its range as \"2.00000000E-03\"; expected 2 uA."), message);
  }

  @ParameterizedTest
  @EnumSource(Way.class)
  void aMeterThatWasSwitchedOffAndOnIsNoticed(Way way) throws Exception {
    StrictMeter strict = new StrictMeter();
    Instrument x = table.instrument("scpi meter", table.put(way, strict), "current meter", "");
    Meter meter = meter(x);
    meter.prepare(meter.ranges().get(3), 10);
    int before = x.epoch();
    strict.events = 128;
    String message = assertThrows(InstrumentException.class, x::check).getMessage();
    assertTrue(message.contains("the instrument was switched off and on"), message);
    String doubt = assertThrows(InstrumentException.class, meter::read).getMessage();
    assertTrue(
        doubt.contains("what was set before (prepare) is in doubt; expected that it is set again"),
        doubt);
    assertTrue(x.epoch() > before);
    meter.prepare(meter.ranges().get(3), 10);
    assertTrue(meter.read() instanceof Reply.Number);
  }

  private static double number(Reply reply) {
    assertTrue(reply instanceof Reply.Number, reply.toString());
    return ((Reply.Number) reply).value();
  }
}
