// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.function.BiConsumer;
import millrace.bench.driver.Drivers;
import millrace.bench.role.BenchOperator;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver.Surroundings;
import millrace.link.LinkAddress;
import millrace.link.LinkOpener;
import millrace.link.LinkRecorder;
import millrace.link.Peer;
import millrace.link.PtyPair;
import millrace.logbook.OpenBook;
import millrace.time.VirtualClock;

/** A table with instruments that tests make up, reached over real sockets or pseudo-terminals. */
public final class Table implements AutoCloseable {
  /** The two ways to an instrument. */
  public enum Way {
    SOCKET,
    TERMINAL
  }

  private final Deque<AutoCloseable> open = new ArrayDeque<>();
  private final VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
  private Peer peer;

  /** Puts an instrument on the table and gives its address. */
  public LinkAddress put(Way way, BiConsumer<String, Peer.Mouth> manner) throws Exception {
    if (way == Way.SOCKET) {
      peer = Peer.listening(manner);
      open.push(peer);
      return peer.address();
    }
    Path folder = Files.createTempDirectory("table");
    open.push(() -> OpenBook.deleteAll(folder));
    PtyPair pair = PtyPair.open(folder);
    open.push(pair);
    peer = Peer.at(pair, manner);
    return LinkAddress.parse("serial " + pair.near() + " 115200");
  }

  /** What the instrument that was put down last has heard. */
  public List<String> heard() {
    return new ArrayList<>(peer.heard());
  }

  public VirtualClock clock() {
    return clock;
  }

  /** A bench with the shipped drivers. */
  public Bench bench(String yaml) {
    return bench(yaml, Drivers.load(Path.of("drivers")), BenchOperator.NOBODY);
  }

  public Bench bench(String yaml, Drivers drivers, BenchOperator person) {
    BenchFile file = BenchForms.read("bench.yaml", yaml.getBytes(StandardCharsets.UTF_8));
    Bench bench =
        Bench.open(
            file,
            drivers,
            new Surroundings(clock, person),
            LinkOpener.recording(a -> LinkRecorder.NONE));
    open.push(bench);
    return bench;
  }

  /** A bench with one instrument, called x, and the instrument. */
  public Instrument instrument(String driver, LinkAddress address, String role, String more) {
    String yaml =
        "bench: table\ninstruments:\n  x: {driver: %s, address: '%s', roles: {%s: {}}%s}\n"
            .formatted(driver, address, role, more.isEmpty() ? "" : ", " + more);
    return bench(yaml).instruments().get("x");
  }

  @Override
  public void close() throws Exception {
    while (!open.isEmpty()) {
      open.pop().close();
    }
  }
}
