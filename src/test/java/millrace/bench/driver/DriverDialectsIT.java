// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.BiConsumer;
import millrace.bench.Bench;
import millrace.bench.Table;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.link.LinkAddress;
import millrace.link.Peer;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** Ways of speaking that a driver file can say. */
@Timeout(60)
class DriverDialectsIT {
  private static final String BLOCKS =
      """
      driver: strange
      reply within: 300 ms
      identity: {ask: 'ID?', matches: '^strange'}
      voltmeter:
        prepare: ['RANGE {range}']
        read: {ask: 'V?', block: yes, number: '^VDC (.*)$'}
        ranges: [{full scale: 10 V}]
      """;

  /** Check digits are sums of the character codes of what stands before ';', worked by hand. */
  private static final String SUMS =
      """
      driver: strange
      checksum: {kind: sum, between: ';', on: replies}
      identity: {ask: 'ID', matches: '^box\\n7$', lines: 2}
      unit thermometer:
        read: {ask: 'T', lines: 2, number: '^T=(.*)\\nL=.*$'}
      """;

  private static final String BOX =
      """
      driver: strange
      identity: {ask: 'ID', matches: '^box$'}
      load:
        set:
          - {ask: 'SET {resistance:ohm|5f1}', lines: 2, expect: '^SET\\n{resistance:ohm|5f1}$'}
          - {confirm: resistance, by: 'R?'}
      """;

  @TempDir private Path folder;
  @AutoClose private final Table table = new Table();

  private Bench bench(String driver, String role, BiConsumer<String, Peer.Mouth> manner)
      throws Exception {
    Path drivers = Files.createDirectories(folder.resolve("drivers"));
    Files.writeString(drivers.resolve("strange.yaml"), driver);
    LinkAddress address = table.put(Table.Way.SOCKET, manner);
    return table.bench(
        "bench: b\ninstruments:\n  x: {driver: strange, address: '%s', roles: {%s: {}}}\nwiring: {voltmeter: upstream}\n"
            .formatted(address, role),
        Drivers.load(drivers),
        BenchOperator.NOBODY);
  }

  private Meter voltmeter(String reply) throws Exception {
    Bench bench =
        bench(
            BLOCKS,
            "voltmeter",
            (line, mouth) -> {
              if (line.equals("ID?")) {
                mouth.say("strange\n");
              } else if (line.equals("V?")) {
                mouth.say(reply);
              }
            });
    Meter meter = bench.in(RoleName.VOLTMETER, Meter.class).orElseThrow();
    meter.prepare(meter.ranges().get(0), 1);
    return meter;
  }

  private static InstrumentException refused(Kind kind, Runnable what) {
    InstrumentException e = assertThrows(InstrumentException.class, what::run);
    assertEquals(kind, e.trouble().orElseThrow().kind(), e::getMessage);
    return e;
  }

  /** The length is that of 'VDC +1.234E-03': fourteen characters. */
  @Test
  void aNumberIsTakenOutOfABlock() throws Exception {
    Meter meter = voltmeter("#214VDC +1.234E-03\n");
    assertEquals(new Reply.Number(1.234e-3, "VDC +1.234E-03"), meter.read());
  }

  @Test
  void aBlockThatIsShorterThanItSaysIsNoNumber() throws Exception {
    refused(Kind.NO_REPLY, voltmeter("#214VDC +1.2\n")::read);
  }

  @Test
  void aBlockThatIsLongerThanItSaysIsNoNumber() throws Exception {
    refused(Kind.WRONG_REPLY, voltmeter("#214VDC +1.234E-0312\n")::read);
  }

  @Test
  void aLineInPlaceOfABlockIsNoNumber() throws Exception {
    refused(Kind.WRONG_REPLY, voltmeter("VDC +1.234E-03\n")::read);
  }

  private Sensor thermometer(String secondLine) throws Exception {
    Bench bench =
        bench(
            SUMS,
            "unit thermometer",
            (line, mouth) ->
                mouth.say(line.equals("ID") ? "box;49\n7;37\n" : "T=1;C2\n" + secondLine));
    bench.identify();
    return bench.in(RoleName.UNIT_THERMOMETER, Sensor.class).orElseThrow();
  }

  @Test
  void everyLineOfAReplyHasItsOwnCheckDigitsAndCommandsMayHaveNone() throws Exception {
    assertEquals(new Reply.Number(1, "T=1\nL=2"), thermometer("L=2;BB\n").read());
    assertEquals(Set.of("ID", "T"), Set.copyOf(table.heard()));
  }

  @Test
  void wrongCheckDigitsOfALaterLineAreRefusedToo() throws Exception {
    String why = refused(Kind.WRONG_REPLY, thermometer("L=3;BB\n")::read).getMessage();
    assertEquals(
        "the reply \"L=3;BB\" to \"T\" has check digits BB instead of BC; expected right check"
            + " digits. Check rate, parity and cable.",
        why.substring(why.indexOf("the reply")));
  }

  @Test
  void aConfirmationThatIsNoNumberSaysSo() throws Exception {
    Bench bench =
        bench(
            BOX,
            "load",
            (line, mouth) -> {
              if (line.equals("R?")) {
                mouth.say("R = 4700\n");
              } else {
                mouth.say(line.equals("ID") ? "box\n" : line.replace("SET ", "SET\n") + "\n");
              }
            });
    Load load = bench.in(RoleName.LOAD, Load.class).orElseThrow();
    String why = refused(Kind.REFUSED, () -> load.set(4700)).getMessage();
    assertEquals(
        "answered \"R = 4700\" to \"R?\"; expected a number that is resistance 4700.0 as it was"
            + " set. Check the instrument's display.",
        why.substring(why.indexOf("answered")));
    assertEquals("SET 04700.0", table.heard().get(table.heard().size() - 2));
  }

  private static final String ONE_QUESTION =
      """
      driver: strange
      reply within: 300 ms
      together: scpi
      identity: {ask: 'ID?', matches: '^strange'}
      voltmeter:
        prepare: ['VOLT:RANG {range}', {ask: 'VOLT:OK?', expect: '^1$'}]
        read: {ask: 'READ?'}
        read range: {ask: 'VOLT:RANG?'}
        read back: {input: {ask: 'VOLT:INP?'}}
        ranges: [{full scale: 10 V}]
      """;

  /** It leaves what it does not understand without a reply, as SCPI does. */
  private static String oneQuestion(String line) {
    return Map.of("ID?", "strange", "VOLT:OK?", "1", "VOLT:RANG?", "10", "VOLT:INP?", "1E10")
        .getOrDefault(line, "");
  }

  @Test
  void aMeterThatTakesOneQuestionALineIsAskedLineByLine() throws Exception {
    List<String> heard = new CopyOnWriteArrayList<>();
    Bench bench =
        bench(
            ONE_QUESTION,
            "voltmeter",
            (line, mouth) -> {
              heard.add(line);
              String reply = oneQuestion(line);
              mouth.say(reply.isEmpty() ? "" : reply + "\n");
            });
    Meter meter = bench.in(RoleName.VOLTMETER, Meter.class).orElseThrow();
    int before = bench.instruments().get("x").epoch();
    meter.prepare(meter.ranges().get(0), 1);
    assertTrue(heard.contains("VOLT:OK?;RANG?;INP?"), heard::toString);
    assertEquals(Map.of("range", "10 V", "input", "10000000000"), meter.readBack().words());
    assertTrue(bench.instruments().get("x").epoch() > before, "a point on its way is not repeated");
    heard.clear();
    meter.prepare(meter.ranges().get(0), 1);
    assertTrue(heard.stream().noneMatch(line -> line.contains(";")), heard::toString);
  }

  private static final String RIGHT_BEHIND =
      """
      driver: strange
      reply within: 300 ms
      together: lines
      range selector:
        select: [{ask: 'RANGE {range}', expect: '^OK$'}, {ask: 'RANGE?', expect: '^{range}$'}]
        on: [{ask: 'ON', expect: '^OK$'}]
      """;

  /** The question is sent before the reply to the command is known; a command never is. */
  @Test
  void aQuestionGoesRightBehindItsCommand() throws Exception {
    List<String> heard = new CopyOnWriteArrayList<>();
    Bench bench =
        bench(
            RIGHT_BEHIND,
            "range selector",
            (line, mouth) -> {
              heard.add(line);
              boolean asks = heard.size() % 2 == 0;
              mouth.say(asks ? (heard.size() == 2 ? "OK\n1mA\n" : "ERR\n1mA\n") : "");
            });
    RangeSelector selector = bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow();
    selector.select("1mA");
    assertEquals(List.of("RANGE 1mA", "RANGE?"), heard);
    String refused =
        assertThrows(InstrumentException.class, () -> selector.select("10mA")).getMessage();
    assertTrue(refused.contains("answered \"ERR\" to \"RANGE 10mA\""), refused);
    assertEquals(List.of("RANGE 10mA", "RANGE?"), heard.subList(2, 4));
  }
}
