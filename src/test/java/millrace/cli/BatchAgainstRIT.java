// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.logging.Logger;
import millrace.Needs;
import millrace.analysis.batch.Capability;
import millrace.assessment.Assessor;
import millrace.assessment.Evaluations;
import millrace.bench.driver.Drivers;
import millrace.evidence.Version;
import millrace.logbook.Logbook;
import millrace.logbook.RunStart;
import millrace.night.BenchSession;
import millrace.night.Night;
import millrace.night.OperatorAttendance;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.night.UnitUnderTest;
import millrace.quantity.NumberText;
import millrace.run.control.StopRequest;
import millrace.sim.fault.FaultPlan;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/**
 * Boards with seeded faults, one bad lot and one drifting bench: what {@code compare} says of them,
 * against R on the CSV that it exports.
 */
@Timeout(3600)
class BatchAgainstRIT {
  private static final Path SHEET = Path.of("examples/fx-3.datasheet.yaml");
  private static final Path SEQUENCE = Path.of("sequences/production-board-test.yaml");
  private static final String QUANTITY = "current_error";
  private static final String RANGE = "10mA";
  private static final String REFERENCE = "FX3-99999";
  private static final String BAD_LOT = "L2";

  /** Every reference of the bad lot is this far off, a ratio: inside the limit of 150 ppm alone. */
  private static final double LOT = 120e-6;

  /** Tens of ppm of the gain of the drifting bench's meter, in the time that its lot takes. */
  private static final double DRIFT = 50e-6;

  private static final double BOARDS_A_DAY = 1100;

  @TempDir Path folder;
  private final Set<String> seeded = new HashSet<>();
  private int serial;

  private Path book() {
    return folder.resolve("batch.db");
  }

  /** A bench, and the lots that are tested on it. */
  private void bench(long seed, double driftPerDay, int boards, List<String> lots)
      throws IOException {
    RunInputs inputs = RunInputs.read(SEQUENCE, SHEET);
    SimulatedBenchSpec demo = SimulatedBenchSpec.demo();
    SimulatedBenchSession.Kinds kinds =
        new SimulatedBenchSession.Kinds(
            demo.with(demo.ammeter().drifting(driftPerDay)),
            SimulatedUnitFromDatasheet.of(inputs.datasheet()),
            FaultPlan.NONE);
    VirtualClock clock =
        new VirtualClock(Instant.parse("2026-05-04T06:00:00Z").plusSeconds(86_400 * seed));
    try (Logbook logbook = Logbook.openOrCreate(book());
        BenchSession setting =
            BenchSession.of(
                SimulatedBenchSession.start(seed, clock, kinds),
                Drivers.load(Path.of("drivers")))) {
      SimulatedBenchSession simulation = setting.simulation().orElseThrow();
      String tag = "bench " + seed;
      simulation.insertReference(REFERENCE);
      board(inputs, setting, logbook, new Lot(REFERENCE, "reference", tag));
      for (String lot : lots) {
        for (int i = 0; i < boards; i++) {
          String unit = NumberText.format("FX3-%05d", ++serial);
          List<SimulatedUnitSpec.Defect> defects =
              lot.equals(BAD_LOT) ? List.of(new SimulatedUnitSpec.Defect("REF", LOT)) : List.of();
          if (simulation.insert(unit, defects)) {
            seeded.add(unit);
          }
          board(inputs, setting, logbook, new Lot(unit, lot, "boards"));
        }
      }
      simulation.insertReference(REFERENCE);
      board(inputs, setting, logbook, new Lot(REFERENCE, "reference", tag));
    }
  }

  /** What one board belongs to. */
  private record Lot(String unit, String batch, String tag) {}

  private static void board(RunInputs inputs, BenchSession setting, Logbook logbook, Lot of) {
    OperatorAttendance nobody =
        new OperatorAttendance(
            new RunStart.People(Optional.empty(), Optional.of(of.batch()), Optional.of(of.tag())),
            question -> "",
            List.of(),
            new StopRequest(run -> "Go on with: millrace run --resume " + run),
            List.of());
    long run = new Night(inputs, setting, logbook, nobody).begin(UnitUnderTest.of(of.unit())).run();
    Evaluations.save(
        logbook, Assessor.assess(logbook.reader(run)), Version.CURRENT, setting.time().now());
  }

  private JsonNode compared(Path csv, String... which) {
    List<String> words = new ArrayList<>(List.of("compare", "--json", "--csv", csv.toString()));
    words.addAll(List.of(which));
    words.addAll(List.of("--logbook", book().toString()));
    Spoken spoken = Spoken.by(words.toArray(String[]::new));
    assertTrue(spoken.code() == 0 || spoken.code() == 1, spoken.err());
    return Schemas.json(spoken.out());
  }

  /** Of the batch what is judged; of one unit's drift what was measured on both days. */
  private static JsonNode judged(JsonNode list) {
    return of(list, true);
  }

  private static JsonNode measured(JsonNode list) {
    return of(list, false);
  }

  private static JsonNode of(JsonNode list, boolean worst) {
    for (JsonNode each : list) {
      if (each.at("/quantity").asText().equals(QUANTITY)
          && each.at("/range").asText().equals(RANGE)
          && each.at("/worst_point").asBoolean() == worst
          && (each.at("/group").isMissingNode() || each.at("/group").asText().equals(BAD_LOT))) {
        return each;
      }
    }
    throw new IllegalArgumentException("not in " + list);
  }

  private void compareWithR() throws IOException, InterruptedException {
    Path csv = folder.resolve("batch.csv");
    Path first = folder.resolve("first.csv");
    Path second = folder.resolve("second.csv");
    JsonNode batch = compared(csv, "--tag", "boards");
    JsonNode steady = compared(first, "--tag", "bench 1");
    JsonNode drifting = compared(second, "--tag", "bench 2");
    Map<String, Double> r =
        ByR.of(
            "batch.R",
            List.of(csv.toString(), QUANTITY, RANGE, BAD_LOT, first.toString(), second.toString()));
    Logger.getLogger(getClass().getName()).info(r.toString());

    JsonNode yield = batch.at("/yields/0/first_pass");
    same(r, "passed", yield.at("/count"));
    same(r, "units", yield.at("/of"));
    same(r, "yield lower", yield.at("/interval/lower"));
    same(r, "yield upper", yield.at("/interval/upper"));
    JsonNode statistics = judged(batch.at("/quantities")).at("/statistics");
    for (String name : List.of("n", "mean", "standard_deviation")) {
      same(r, name, statistics.at("/" + name));
    }
    if (statistics.at("/n").asInt() < Capability.FEWEST) {
      assertTrue(statistics.at("/capability").isNull(), "a capability of too few boards");
    } else {
      same(r, "cpk", statistics.at("/capability/cpk/value"));
      same(r, "ppk", statistics.at("/capability/ppk/value"));
    }
    same(r, "chart lower", statistics.at("/chart/limits/lower"));
    same(r, "chart upper", statistics.at("/chart/limits/upper"));
    long beyond = 0;
    for (JsonNode signal : statistics.at("/chart/signals")) {
      beyond += signal.at("/rule").asText().equals("beyond 3 sigma") ? 1 : 0;
    }
    assertEquals(r.get("outside chart"), beyond);
    JsonNode outliers = statistics.at("/outlier_runs");
    assertEquals(r.get("outliers"), outliers.size());
    double weighted = 0;
    for (int i = 0; i < outliers.size(); i++) {
      weighted += (i + 1) * outliers.get(i).asDouble();
    }
    assertEquals(r.get("outlier runs"), weighted, "other outliers, or in another order");
    JsonNode lot = judged(batch.at("/groups"));
    same(r, "lot difference", lot.at("/difference"));
    same(r, "lot t", lot.at("/t"));
    same(r, "lot p", lot.at("/p"));
    same(r, "drift a", measured(steady.at("/drifts")).at("/change"));
    same(r, "drift b", measured(drifting.at("/drifts")).at("/change"));
    assertSeen(batch, r);
    assertToldFirst();
    assertFalse(measured(steady.at("/drifts")).at("/moved").asBoolean(), "the steady bench moved");
    assertTrue(measured(drifting.at("/drifts")).at("/moved").asBoolean(), "the drift is not seen");
  }

  /** Ten digits: a probability far below one has lost some on the way there. */
  private static void same(Map<String, Double> r, String name, JsonNode ours) {
    double theirs = r.get(name);
    assertTrue(ours.isNumber(), name + " is missing");
    double within = name.equals("lot p") ? 1e-6 : 1e-10;
    assertEquals(theirs, ours.asDouble(), within * Math.abs(theirs) + 1e-300, name);
  }

  /** What was put in is found again. */
  private void assertSeen(JsonNode batch, Map<String, Double> r) {
    for (JsonNode run : notEmpty(batch.at("/runs"))) {
      if (seeded.contains(run.at("/unit").asText())) {
        assertFalse(run.at("/passed").asBoolean(), "a seeded fault passed: " + run);
      }
    }
    assertEquals(LOT * 1e6, r.get("lot difference"), 60, "ppm, from lot to lot of such boards");
    assertTrue(r.get("lot p") < 0.01, r.toString());
  }

  /** A reader need not look for the bad lot and the drifting bench. */
  private void assertToldFirst() {
    String boards = Spoken.by("compare", "--tag", "boards", "--logbook", book().toString()).out();
    String told = boards.lines().filter(l -> l.startsWith("Batch ")).findFirst().orElse(boards);
    assertTrue(told.startsWith("Batch " + BAD_LOT + " differs from the others in "), told);
    String bench = Spoken.by("compare", "--tag", "bench 2", "--logbook", book().toString()).out();
    assertTrue(bench.contains("\nUnit " + REFERENCE + " moved from run "), bench);
  }

  @Test
  void eighteenBoardsInThreeLotsOnTwoBenches() throws IOException, InterruptedException {
    Needs.program("Rscript");
    bench(1, 0, 6, List.of("L1", BAD_LOT));
    bench(2, DRIFT * BOARDS_A_DAY / 6, 6, List.of("L3"));
    compareWithR();
  }

  @Test
  @Tag("campaign")
  void fiveHundredBoardsInFiveLotsOnTwoBenches() throws IOException, InterruptedException {
    Needs.program("Rscript");
    bench(1, 0, 100, List.of("L1", BAD_LOT, "L3", "L4"));
    bench(2, DRIFT * BOARDS_A_DAY / 100, 100, List.of("L5"));
    compareWithR();
  }
}
