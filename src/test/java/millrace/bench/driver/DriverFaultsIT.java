// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BiConsumer;
import millrace.bench.Bench;
import millrace.bench.Table;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
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

/** What a driver makes of instruments that misbehave. */
@Timeout(60)
class DriverFaultsIT {
  private static final String DRIVER =
      """
      driver: fragile
      reply within: 300 ms
      identity: {ask: 'ID?', matches: '^fragile'}
      not ready reply: '^BUSY$'
      ask again after: 1 s
      ready within: 10 s
      start: ['HELLO']
      current meter:
        prepare: ['FUNC I', 'RANGE {range:uA}']
        read: {ask: 'I?', unit: uA}
        ranges: [{full scale: 100 uA}]
      voltmeter:
        prepare: ['FUNC V', 'RANGE {range}']
        read: {ask: 'V?'}
        ranges: [{full scale: 10 V}]
      load:
        set:
          - 'R {resistance}'
          - {ask: 'DONE?', expect: '^1$', repeat for: 10 s, every: 1 s}
      unit thermometer:
        read: {ask: 'BOTH?', lines: 2, number: 'T=(.*)\\nL=.*'}
      lab thermometer:
        read: {ask: 'BOTH?', lines: 2, number: 'T=.*\\nL=(.*)'}
      """;

  @TempDir private Path folder;
  @AutoClose private final Table table = new Table();

  private Bench bench(BiConsumer<String, Peer.Mouth> manner, String roles) throws Exception {
    Path drivers = Files.createDirectories(folder.resolve("drivers"));
    Files.writeString(drivers.resolve("fragile.yaml"), DRIVER);
    LinkAddress address = table.put(Table.Way.SOCKET, manner);
    return table.bench(
        "bench: b\ninstruments:\n  x: {driver: fragile, address: '%s', roles: {%s}}\nwiring: {voltmeter: upstream}\n"
            .formatted(address, roles),
        Drivers.load(drivers),
        BenchOperator.NOBODY);
  }

  private static InstrumentException refused(Kind kind, Runnable what) {
    InstrumentException e = assertThrows(InstrumentException.class, what::run);
    assertEquals(kind, e.trouble().orElseThrow().kind(), e::getMessage);
    return e;
  }

  @Test
  void afterALinkBrokeNothingIsReadBeforeItIsSetAgain() throws Exception {
    boolean[] dying = {false};
    Bench bench =
        bench(
            (line, mouth) -> {
              if (line.equals("ID?")) {
                mouth.say("fragile\n");
              } else if (line.equals("I?") && dying[0]) {
                dying[0] = false;
                mouth.hangUp();
              } else if (line.equals("I?")) {
                mouth.say("99.5\n");
              }
            },
            "current meter: {}");
    assertEquals("{x=fragile}", bench.identify().toString());
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    meter.prepare(meter.ranges().get(0), 1);
    assertEquals(new Reply.Number(99.5e-6, "99.5"), meter.read());
    dying[0] = true;
    String broke = refused(Kind.BROKEN, meter::read).getMessage();
    assertTrue(broke.startsWith("current meter 'x' (tcp 127.0.0.1:"), broke);
    refused(Kind.BROKEN, meter::read);
    refused(Kind.BROKEN, meter::read);
    meter.prepare(meter.ranges().get(0), 1);
    assertEquals(new Reply.Number(99.5e-6, "99.5"), meter.read());
    List<String> heard = table.heard();
    List<String> after = heard.subList(heard.lastIndexOf("HELLO") - 1, heard.size());
    assertEquals(List.of("ID?", "HELLO", "FUNC I", "RANGE 100", "I?"), after);
  }

  @Test
  void anotherInstrumentBehindTheOldAddressIsNotSpokenTo() throws Exception {
    String[] identity = {"fragile 1"};
    Bench bench =
        bench(
            (line, mouth) -> {
              if (line.equals("ID?")) {
                mouth.say(identity[0] + "\n");
              } else if (line.equals("I?")) {
                identity[0] = "fragile 2";
                mouth.hangUp();
              }
            },
            "current meter: {}");
    bench.identify();
    Meter meter = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    refused(Kind.BROKEN, meter::read);
    String message =
        refused(Kind.WRONG_IDENTITY, () -> meter.prepare(meter.ranges().get(0), 1)).getMessage();
    assertTrue(
        message.contains(
            "answers as \"fragile 2\" since the link was opened again; expected the instrument of"
                + " before, \"fragile 1\"."),
        message);
    assertEquals("ID?", table.heard().get(table.heard().size() - 1));
    refused(Kind.WRONG_IDENTITY, () -> meter.prepare(meter.ranges().get(0), 1));
    refused(Kind.WRONG_IDENTITY, meter::read);
    identity[0] = "fragile 1";
    assertDoesNotThrow(() -> meter.prepare(meter.ranges().get(0), 1));
  }

  @Test
  void twoRolesOfOneInstrumentNeverMixInTwoThreads() throws Exception {
    String[] function = {""};
    Bench bench =
        bench(
            (line, mouth) -> {
              if (line.startsWith("FUNC")) {
                function[0] = line;
              } else if (line.equals("I?")) {
                mouth.say("1\n");
              } else if (line.equals("V?")) {
                mouth.say("2\n");
              }
            },
            "current meter: {}, voltmeter: {}");
    Meter amps = bench.in(RoleName.CURRENT_METER, Meter.class).orElseThrow();
    Meter volts = bench.in(RoleName.VOLTMETER, Meter.class).orElseThrow();
    ExecutorService threads = Executors.newFixedThreadPool(2);
    Future<Boolean> a = threads.submit(() -> always(amps, new Reply.Number(1e-6, "1")));
    Future<Boolean> v = threads.submit(() -> always(volts, new Reply.Number(2, "2")));
    assertTrue(a.get(30, TimeUnit.SECONDS) && v.get(30, TimeUnit.SECONDS));
    threads.shutdownNow();
    List<String> heard = table.heard();
    for (int i = 1; i + 1 < heard.size(); i++) {
      if (heard.get(i).startsWith("FUNC")) {
        assertTrue(heard.get(i + 1).startsWith("RANGE"), "a conversation was cut in two");
      }
    }
  }

  private static boolean always(Meter meter, Reply expected) {
    boolean right = true;
    for (int i = 0; i < 50; i++) {
      meter.prepare(meter.ranges().get(0), 1);
      right &= meter.read().equals(expected);
    }
    return right;
  }

  @Test
  void whatIsNotReadyIsAskedAgainForAsLongAsTheDriverSays() throws Exception {
    AtomicInteger busy = new AtomicInteger(3);
    Bench bench =
        bench(
            (line, mouth) -> {
              if (line.equals("V?")) {
                mouth.say(busy.getAndDecrement() > 0 ? "BUSY\n" : "5\n");
              }
            },
            "voltmeter: {}");
    Sensor volts = bench.in(RoleName.VOLTMETER, Sensor.class).orElseThrow();
    Duration before = table.clock().elapsed();
    assertEquals(new Reply.Number(5, "5"), volts.read());
    assertEquals(Duration.ofSeconds(3), table.clock().elapsed().minus(before));
    busy.set(1000);
    assertEquals(new Reply.NotReady("BUSY"), volts.read());
    assertEquals(Duration.ofSeconds(13), table.clock().elapsed().minus(before));
  }

  @Test
  void aLoadThatIsSwitchingIsAskedUntilItIsDone() throws Exception {
    AtomicInteger left = new AtomicInteger(2);
    Bench bench =
        bench(
            (line, mouth) -> {
              if (line.equals("DONE?")) {
                mouth.say(left.getAndDecrement() > 0 ? "0\n" : "1\n");
              }
            },
            "load: {}");
    Load load = bench.in(RoleName.LOAD, Load.class).orElseThrow();
    load.set(100);
    left.set(1000);
    String message = refused(Kind.REFUSED, () -> load.set(100)).getMessage();
    assertTrue(message.contains("answered \"0\" to \"DONE?\"; expected a reply that"), message);
  }

  @Test
  void aReplyOfSeveralLinesServesSeveralRoles() throws Exception {
    Bench bench =
        bench(
            (line, mouth) -> {
              if (line.equals("BOTH?")) {
                mouth.say("T=40.25\nL=22.5\n");
              }
            },
            "unit thermometer: {}, lab thermometer: {}");
    Sensor unit = bench.in(RoleName.UNIT_THERMOMETER, Sensor.class).orElseThrow();
    Sensor lab = bench.in(RoleName.LAB_THERMOMETER, Sensor.class).orElseThrow();
    assertEquals(new Reply.Number(40.25, "T=40.25\nL=22.5"), unit.read());
    assertEquals(new Reply.Number(22.5, "T=40.25\nL=22.5"), lab.read());
  }
}
