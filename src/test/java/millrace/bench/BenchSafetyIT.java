// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import millrace.bench.Table.Way;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.SafeStateAssurance;
import millrace.bench.role.Supply;
import millrace.fault.InstrumentException;
import millrace.link.LinkAddress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

@Timeout(60)
class BenchSafetyIT {
  @TempDir private Path folder;

  private static final String BENCH =
      """
      bench: table
      safe order: [supply, chamber, load]
      instruments:
        load: {driver: plain decade load, address: '%s', roles: {load: {}}}
        chamber: {driver: plain chamber, address: '%s', roles: {chamber: {}}}
        supply: {driver: scpi supply, address: '%s', roles: {supply: {}}}
      """;

  private static Bench.Safety confirmed(String name) {
    return new Bench.Safety(name, Optional.empty(), Optional.of(SafeStateAssurance.READ_BACK));
  }

  @Test
  void everyInstrumentIsTriedInOrderWhateverHappensToTheOthers() throws Exception {
    try (Table table = new Table()) {
      String nobody;
      try (ServerSocket socket = new ServerSocket(0)) {
        nobody = new LinkAddress.Tcp("127.0.0.1", socket.getLocalPort()).toString();
      }
      LinkAddress mute = table.put(Way.SOCKET, (line, mouth) -> {});
      LinkAddress load = table.put(Way.SOCKET, (line, mouth) -> mouth.say("OK\n"));
      Bench bench = table.bench(BENCH.formatted(load, mute, nobody));
      List<Bench.Safety> report = bench.makeSafe();
      assertEquals(
          List.of("supply", "chamber", "load"),
          report.stream().map(Bench.Safety::instrument).toList());
      assertTrue(report.get(0).trouble().orElseThrow().contains("refused"));
      assertEquals(
          "'chamber' (%s): no reply to \"SET 23\" within 2 s; expected a whole reply. Check cable, front panel and line ending."
              .formatted(mute),
          report.get(1).trouble().orElseThrow());
      assertEquals(confirmed("load"), report.get(2));
      assertEquals(List.of("SHORT ON", "ID?"), table.heard());
    }
  }

  @Test
  void aLinkThatBrokeUnnoticedDoesNotKeepAnInstrumentFromItsSafeState() throws Exception {
    try (Table table = new Table()) {
      AtomicInteger heard = new AtomicInteger();
      LinkAddress load =
          table.put(
              Way.SOCKET,
              (line, mouth) -> {
                if (heard.getAndIncrement() == 0) {
                  mouth.hangUp();
                } else {
                  mouth.say("OK\n");
                }
              });
      Bench bench =
          table.bench(
              "bench: b\ninstruments:\n  l: {driver: plain decade load, address: '"
                  + load
                  + "', roles: {load: {}}}\n");
      assertEquals(List.of(confirmed("l")), bench.makeSafe());
      assertTrue(Collections.frequency(table.heard(), "SHORT ON") > 1, table.heard()::toString);
    }
  }

  /** A driver that waits far longer for a reply than an instrument may take to become safe. */
  private Drivers patient() throws IOException {
    String text = Files.readString(Path.of("drivers", "scpi-supply.yaml"));
    Path drivers = Files.createDirectory(folder.resolve("patient"));
    Files.writeString(
        drivers.resolve("scpi-supply.yaml"),
        text.replaceFirst("(?m)^driver:.*\n", "$0reply within: 50 s\n"));
    return Drivers.load(drivers);
  }

  @Test
  void aReadingThatWaitsDoesNotHoldUpTheSafeState() throws Exception {
    try (Table table = new Table()) {
      LinkAddress supply =
          table.put(
              Way.SOCKET,
              (line, mouth) -> {
                if (line.equals("*IDN?")) {
                  mouth.say("Fennick,PS,0,1\n");
                } else if (line.equals("OUTP?") || line.equals("*ESR?")) {
                  mouth.say("0\n");
                } else if (line.equals("SYST:ERR?")) {
                  mouth.say("0,\"No error\"\n");
                }
              });
      Bench bench =
          table.bench(
              "bench: b\ninstruments:\n  s: {driver: scpi supply, address: '"
                  + supply
                  + "', roles: {supply: {}}}\n",
              patient(),
              BenchOperator.NOBODY);
      Supply s = bench.in(RoleName.SUPPLY, Supply.class).orElseThrow();
      ExecutorService thread = Executors.newSingleThreadExecutor();
      Future<Reply> reading = thread.submit(s::read);
      while (!table.heard().contains("MEAS:VOLT?")) {
        Thread.onSpinWait();
      }
      assertEquals(List.of(confirmed("s")), bench.makeSafe());
      assertTrue(
          assertThrows(
                      java.util.concurrent.ExecutionException.class,
                      () -> reading.get(10, TimeUnit.SECONDS))
                  .getCause()
              instanceof InstrumentException);
      assertTrue(table.heard().containsAll(List.of("OUTP OFF", "OUTP?")));
      thread.shutdownNow();
    }
  }
}
