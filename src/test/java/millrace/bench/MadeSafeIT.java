// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import millrace.bench.driver.Drivers;
import millrace.bench.role.Chamber;
import millrace.bench.role.Load;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.RoleName;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.sim.SimReceivedLine;
import millrace.sim.SimulatedBench;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.Kind;
import millrace.time.Seeds;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * A live bench is made safe while every fault that can spoil a reply or a link strikes every
 * instrument, once and for good. Judged by the lines that the instruments received: all that make
 * them safe are among them, and nothing is called safe that is not.
 */
@Timeout(600)
class MadeSafeIT {
  private static final int FOR_GOOD = 1_000_000;
  private static final Duration WITHIN = Duration.ofSeconds(4);

  /** What the shipped drivers have to say to make an instrument safe. */
  private static final Map<String, List<String>> SAFE_LINES =
      Map.of(
          "selector", List.of("SOURCE OFF", "SOURCE?"),
          "supply", List.of("OUTP OFF", "OUTP?"),
          "load", List.of("SHORT ON"),
          "chamber", List.of("SET 23"));

  /** What an instrument answers, or that it answers, is spoilt at every line. */
  private static final Set<Kind> NEVER_CONFIRMED =
      EnumSet.of(
          Kind.SILENCE,
          Kind.HALF_A_LINE,
          Kind.GARBAGE,
          Kind.ENDLESS_LINE,
          Kind.REFUSED,
          Kind.RESET,
          Kind.REBOOT,
          Kind.HALF_OPEN,
          Kind.ENDS_WITH_NOTHING);

  private static BenchFile file(SimulatedBench sim) throws IOException {
    String text;
    try (var in = MadeSafeIT.class.getResourceAsStream("/millrace/night/simulated-bench.yaml")) {
      text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
    for (Map.Entry<String, Integer> port : sim.ports().entrySet()) {
      text = text.replace("${" + port.getKey() + "}", String.valueOf(port.getValue()));
    }
    return BenchForms.read(
        "simulated", (text + "slots: {unit: '1'}\n").getBytes(StandardCharsets.UTF_8));
  }

  private static void bringToLife(Bench bench) {
    bench.identify();
    Supply supply = bench.in(RoleName.SUPPLY, Supply.class).orElseThrow();
    supply.set(18);
    supply.output(true);
    bench.in(RoleName.CHAMBER, Chamber.class).orElseThrow().setpoint(60, Double.POSITIVE_INFINITY);
    bench.in(RoleName.SWITCH, Switch.class).orElseThrow().connect("1");
    bench.in(RoleName.LOAD, Load.class).orElseThrow().set(4700);
    RangeSelector selector = bench.in(RoleName.RANGE_SELECTOR, RangeSelector.class).orElseThrow();
    selector.select("1mA");
    selector.output(true);
  }

  /** One fault on one instrument. */
  private record Case(Kind kind, String instrument, int times) {
    SimFault fault() {
      return new SimFault(
          kind,
          instrument,
          new SimFault.AtTime(Duration.ZERO),
          times,
          kind.usualSize(),
          Duration.ZERO);
    }

    private boolean forGood() {
      return times == FOR_GOOD;
    }

    /** What is wrong with how the bench was made safe; empty if nothing is. */
    List<String> judged() throws IOException {
      VirtualClock clock = new VirtualClock(Instant.parse("2026-11-25T18:00:00Z"));
      try (SimulatedBench sim =
              SimulatedBench.start(SimulatedBench.Settings.demo(new Seeds(4)), clock);
          Bench bench = Bench.open(file(sim), Drivers.load(Path.of("drivers")), clock)) {
        bringToLife(bench);
        int before = sim.heard().size();
        sim.strike(fault());
        List<Bench.Safety> report = bench.makeSafe(WITHIN);
        List<SimReceivedLine> heard = sim.heard();
        return wrong(report, heard.subList(before, heard.size()), sim.unsafe());
      }
    }

    private List<String> wrong(
        List<Bench.Safety> report, List<SimReceivedLine> heard, List<String> unsafe) {
      List<String> wrong = new ArrayList<>();
      SAFE_LINES.forEach(
          (who, lines) -> {
            List<String> told =
                heard.stream().filter(h -> h.instrument().equals(who)).map(h -> h.line()).toList();
            if (!told.containsAll(lines)) {
              wrong.add("%s: '%s' heard only %s".formatted(this, who, told));
            }
          });
      for (Bench.Safety each : report) {
        boolean mine = each.instrument().equals(instrument);
        if (each.trouble().isPresent() && !mine) {
          wrong.add("%s: '%s' shouts %s".formatted(this, each.instrument(), each.trouble().get()));
        }
        boolean doubted = mine && forGood() && NEVER_CONFIRMED.contains(kind);
        if (doubted && each.trouble().isEmpty()) {
          wrong.add("%s: called safe".formatted(this));
        }
      }
      // One that refuses every word for good does not obey; all others do, confirmed or not.
      boolean deaf = forGood() && kind == Kind.ERROR_QUEUE && report.stream().anyMatch(mineFails());
      if (!unsafe.isEmpty() && !deaf) {
        wrong.add("%s: %s".formatted(this, unsafe));
      }
      return wrong;
    }

    private java.util.function.Predicate<Bench.Safety> mineFails() {
      return s -> s.instrument().equals(instrument) && s.trouble().isPresent();
    }
  }

  private static List<Kind> kinds() {
    return java.util.Arrays.stream(Kind.values()).filter(k -> !k.befallsBench()).toList();
  }

  private static Map<Case, List<String>> all(List<Case> cases) throws Exception {
    ExecutorService benches = Executors.newFixedThreadPool(8);
    try {
      Map<Case, Future<List<String>>> running = new LinkedHashMap<>();
      cases.forEach(c -> running.put(c, benches.submit(c::judged)));
      Map<Case, List<String>> found = new LinkedHashMap<>();
      for (Map.Entry<Case, Future<List<String>>> each : running.entrySet()) {
        found.put(each.getKey(), each.getValue().get());
      }
      return found;
    } finally {
      benches.shutdownNow();
    }
  }

  private static void assertNothingWrong(Map<Case, List<String>> found) {
    String wrong = found.values().stream().flatMap(List::stream).collect(Collectors.joining("\n"));
    assertEquals("", wrong);
  }

  /** The short form: each kind on one instrument after the other. */
  @ParameterizedTest
  @ValueSource(ints = {1, FOR_GOOD})
  void everySafeLineIsSaidWhateverAnswers(int times) throws Exception {
    List<String> instruments = SAFE_LINES.keySet().stream().sorted().toList();
    List<Case> cases = new ArrayList<>();
    for (Kind kind : kinds()) {
      cases.add(new Case(kind, instruments.get(cases.size() % instruments.size()), times));
    }
    assertNothingWrong(all(cases));
  }

  /** The worst that was seen: a selector whose replies are garbled left the source on. */
  @Test
  void aSelectorWhoseRepliesAreGarbledIsToldToSwitchTheSourceOff() throws Exception {
    assertEquals(List.of(), new Case(Kind.GARBAGE, "selector", FOR_GOOD).judged());
  }

  @Test
  @Tag("campaign")
  void everyFaultOnEveryInstrument() throws Exception {
    List<Case> cases = new ArrayList<>();
    for (Kind kind : kinds()) {
      for (String instrument : SAFE_LINES.keySet().stream().sorted().toList()) {
        cases.add(new Case(kind, instrument, 1));
        cases.add(new Case(kind, instrument, 3));
        cases.add(new Case(kind, instrument, FOR_GOOD));
      }
    }
    Map<Case, List<String>> found = all(cases);
    long good = found.values().stream().filter(List::isEmpty).count();
    Path folder = Files.createDirectories(Path.of("target", "verification"));
    Files.writeString(
        folder.resolve("made-safe.txt"),
        "made safe under faults: %s cases of %s kinds, every safe line received in %s of them%n%s"
            .formatted(
                cases.size(),
                kinds().size(),
                good,
                found.values().stream()
                    .flatMap(List::stream)
                    .map(w -> w + System.lineSeparator())
                    .collect(Collectors.joining())));
    assertNothingWrong(found);
    assertTrue(cases.size() >= 200, "cases: " + cases.size());
  }
}
