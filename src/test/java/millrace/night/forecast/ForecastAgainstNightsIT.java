// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ResultQuantity;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.night.SimulatedUnitFromDatasheet;
import millrace.night.forecast.ForecastNight.Known;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Predicted U over the U that came out, of nights on simulated benches whose units and errors are
 * drawn: from the bench file and datasheet alone, and like the night before. It prints its figures
 * into {@code target/benchmarks/forecast.txt}.
 *
 * <p>A simulated unit leaks up to three times less than its datasheet states. In its smallest range
 * U of the load regulation is for the most part the thermometer's error times how fast the leakage
 * changes, and comes out smaller than predicted. The forecast is therefore held to units that leak
 * as stated; for units that leak less it is held to be no smaller than what comes out, and to be
 * right like an earlier run of the same unit.
 */
class ForecastAgainstNightsIT {
  private static final int NIGHTS = Integer.getInteger("millrace.nights", 100);
  private static final String RANGES = System.getProperty("millrace.ranges", "all");
  private static final int FEW = 4;
  private static final Path SHEET = Path.of("examples/fx-3.datasheet.yaml");

  private static final String BENCH_ALONE = "bench file and datasheet alone";
  private static final String LIKE = "like the night before";
  private static final String LEAKAGE = "L1";

  private static final String ONE_RANGE =
      """
      sequence: one range
      readings: {count: 8, voltage: 2}
      steps:
        - in ranges: 1mA
          do:
            - zero: {count: 20}
            - over loads: {share of compliance: [0 %, 1 %, 2 %, 3 %, 40 %, 78 %, 79 %, 80 %]}
              sweep: both
            - find the knee: {to: 2 mV, up to: 130 %}
              readings: {count: 2, voltage: 2}
      """;

  private static final String SMALL_RANGE =
      """
      sequence: the smallest range
      readings: {count: 5, line cycles: 10}
      steps:
        - at temperatures: [28 degC, 18 degC]
          soak: {within: 2 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: 1uA
              do:
                - zero
                - over loads: {share of compliance: {from: 0 %, to: 80 %, points: 9}}
                  sweep: both
      """;

  private static final String FIVE_STAYS =
      """
      sequence: five stays
      readings: {count: 5, line cycles: 10}
      steps:
        - at temperatures: [23 degC, 50 degC, 23 degC, 5 degC, 23 degC]
          soak: {within: 2 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: 1mA
              do:
                - zero
                - over loads: {share of compliance: {from: 0 %, to: 100 %, points: 9}}
                  sweep: both
      """;

  @TempDir private Path folder;
  private final Map<ResultQuantity, List<AchievedRatio>> alone =
      new EnumMap<>(ResultQuantity.class);
  private final Map<ResultQuantity, List<AchievedRatio>> like = new EnumMap<>(ResultQuantity.class);

  /** A night of a unit that leaks as its datasheet states; all else is drawn. */
  private ForecastNight asStated(RunInputs inputs, long seed) {
    SimulatedUnitSpec spec = SimulatedUnitFromDatasheet.of(inputs.datasheet());
    Seeds ofUnit = new Seeds(seed).derive("unit 1");
    double less = Math.pow(3, ofUnit.stream(LEAKAGE).nextDouble());
    SimulatedUnitSpec leaking = spec.with(LEAKAGE, less - 1);
    assertEquals(
        1,
        lostA(new SimulatedUnit(leaking, ofUnit)) / lostA(SimulatedUnit.nominal(spec)),
        0.05, // the amplifier's gain is drawn, too
        "the unit of seed " + seed + " does not leak as stated");
    return ForecastNight.of(folder, inputs, SimulatedBenchSpec.demo(), leaking, seed);
  }

  private static double lostA(SimulatedUnit unit) {
    return unit.currentA("1uA", 0, 23, 18) - unit.currentA("1uA", 10, 23, 18);
  }

  private void nights(RunInputs inputs, int nights, Optional<Path> figures) throws IOException {
    String bench = SimulatedBenchSession.anyPorts();
    Map<List<Object>, Known> predicted = ForecastNight.forecast(inputs, bench, Optional.empty());
    Map<List<Object>, Known> likeBefore = Map.of();
    for (long seed = 1; seed <= nights; seed++) {
      try (ForecastNight night = asStated(inputs, seed)) {
        Map<List<Object>, Known> achieved = night.known();
        take(alone, predicted, achieved);
        take(like, likeBefore, achieved);
        likeBefore = ForecastNight.forecast(inputs, bench, Optional.of(night.reader()));
      }
      if (figures.isPresent()) {
        Files.write(figures.get(), tables(seed));
      }
    }
  }

  private static void take(
      Map<ResultQuantity, List<AchievedRatio>> to,
      Map<List<Object>, Known> predicted,
      Map<List<Object>, Known> achieved) {
    achieved.forEach(
        (limit, came) ->
            Optional.ofNullable(predicted.get(limit))
                .ifPresent(
                    said ->
                        to.computeIfAbsent(came.quantity(), q -> new ArrayList<>())
                            .add(AchievedRatio.of(said, came))));
  }

  private List<String> tables(long nights) {
    List<String> lines = new ArrayList<>();
    lines.add(nights + " nights of sequences/short-night.yaml, ranges: " + RANGES);
    lines.addAll(table(BENCH_ALONE, alone));
    lines.addAll(table(LIKE, like));
    return lines;
  }

  private static List<String> table(String head, Map<ResultQuantity, List<AchievedRatio>> by) {
    List<String> lines = new ArrayList<>(List.of(head + ": predicted U over achieved U"));
    by.forEach(
        (quantity, ratios) -> {
          lines.add(AchievedRatio.row(quantity.key(), ratios));
          ratios.stream()
              .map(AchievedRatio::range)
              .distinct()
              .forEach(
                  range ->
                      lines.add(
                          AchievedRatio.row(
                              "  " + range,
                              ratios.stream().filter(r -> r.range().equals(range)).toList())));
        });
    return lines;
  }

  private static Path figures(String name) throws IOException {
    return Files.createDirectories(Path.of("target", "benchmarks")).resolve(name);
  }

  @Test
  @Tag("campaign")
  void predictedAgainstAchievedOverManyNights() throws IOException {
    String night = Files.readString(Path.of("sequences/short-night.yaml"));
    String text = night.replace("in ranges: all", "in ranges: " + RANGES);
    Path sequence = Files.writeString(folder.resolve("night.yaml"), text);
    nights(RunInputs.read(sequence, SHEET), NIGHTS, Optional.of(figures("forecast.txt")));
    assertEquals(like.keySet(), alone.keySet());
    for (Map<ResultQuantity, List<AchievedRatio>> by : List.of(alone, like)) {
      by.forEach(
          (quantity, ratios) ->
              assertTrue(
                  AchievedRatio.within(ratios.stream()) >= 0.95,
                  quantity + "\n" + String.join("\n", tables(NIGHTS))));
    }
  }

  /** Ratios of the load regulation of units drawn whole, like an earlier night of the same unit. */
  private List<AchievedRatio> ofDrawnUnits(int units) throws IOException {
    Path first = Files.writeString(folder.resolve("first.yaml"), SMALL_RANGE);
    String once = SMALL_RANGE.replace("- zero", "- zero\n          - zero"); // other noise
    Path second = Files.writeString(folder.resolve("second.yaml"), once);
    RunInputs inputs = RunInputs.read(first, SHEET);
    RunInputs again = RunInputs.read(second, SHEET);
    String bench = SimulatedBenchSession.anyPorts();
    Map<List<Object>, Known> predicted = ForecastNight.forecast(inputs, bench, Optional.empty());
    Files.createDirectories(folder.resolve("again"));
    for (long seed = 1; seed <= units; seed++) {
      SimulatedBenchSpec spec = SimulatedBenchSpec.demo();
      try (ForecastNight night = ForecastNight.of(folder, inputs, spec, seed);
          ForecastNight later = ForecastNight.of(folder.resolve("again"), again, spec, seed)) {
        Map<List<Object>, Known> achieved = later.known();
        take(alone, predicted, achieved);
        take(like, ForecastNight.forecast(inputs, bench, Optional.of(night.reader())), achieved);
      }
    }
    return alone.get(ResultQuantity.LOAD_REGULATION);
  }

  private void unitsThatLeakLess(int units, double share) throws IOException {
    List<AchievedRatio> promised = ofDrawnUnits(units);
    List<AchievedRatio> known = like.get(ResultQuantity.LOAD_REGULATION);
    List<String> lines = new ArrayList<>(table("units that leak less, " + BENCH_ALONE, alone));
    lines.addAll(table("units that leak less, like an earlier night of the same unit", like));
    Files.write(figures("forecast-leakage-%s.txt".formatted(units)), lines);
    double safe = promised.stream().mapToInt(r -> r.value() >= 0.8 ? 1 : 0).average().orElse(0);
    assertTrue(safe >= share, () -> String.join("\n", lines));
    assertTrue(AchievedRatio.within(known.stream()) >= share, () -> String.join("\n", lines));
  }

  @Test
  @Tag("campaign")
  void manyUnitsThatLeakLessGetNoLargerUThanPredicted() throws IOException {
    unitsThatLeakLess(NIGHTS, 0.95);
  }

  @Test
  void twoUnitsThatLeakLessGetNoLargerUThanPredicted() throws IOException {
    unitsThatLeakLess(2, 0.5);
  }

  /** Beyond the knee the current moves with the headroom, which is no noise of the current. */
  @Test
  void aSearchForTheKneeDoesNotWidenTheTempco() throws IOException {
    double without = tempcoU(FIVE_STAYS);
    double with = tempcoU(FIVE_STAYS + "          - find the knee: {to: 50 mV, up to: 130 %}\n");
    assertTrue(with < 2.5 * without, with + " ppm/K with a search for the knee, " + without);
  }

  /** What zeros scatter by has a row of its own, and is no slow noise of the current. */
  @Test
  void aShortZeroIsNoSlowNoise() throws IOException {
    double brief = slowNoise(tempco(FIVE_STAYS.replace("- zero", "- zero: {count: 2}"), warm()));
    double careful = slowNoise(tempco(FIVE_STAYS.replace("- zero", "- zero: {count: 60}"), warm()));
    assertTrue(brief < 1.5 * careful, brief + " ppm/K with short zeros, " + careful);
  }

  /** A unit that is switched on when the night begins changes during the first visit to T_ref. */
  @Test
  void aUnitThatHasWarmedUpGetsASmallerTempcoU() throws IOException {
    double cold = tempco(FIVE_STAYS, SHEET).expanded();
    double warmed = tempco(FIVE_STAYS, warm()).expanded();
    assertTrue(warmed < 0.8 * cold, warmed + " ppm/K warm, cold " + cold);
  }

  private Path warm() throws IOException {
    String sheet = Files.readString(SHEET);
    String asked = sheet.replace("thermal time", "warm-up: 3 h\nthermal time");
    return Files.writeString(folder.resolve("warm.yaml"), asked);
  }

  private static double slowNoise(Known known) {
    return known.budget().stream()
        .filter(c -> c.component().contains("slow noise"))
        .mapToDouble(BudgetComponent::contribution)
        .sum();
  }

  private double tempcoU(String text) throws IOException {
    return tempco(text, SHEET).expanded();
  }

  private Known tempco(String text, Path sheet) throws IOException {
    Path sequence = Files.writeString(folder.resolve("stays.yaml"), text);
    RunInputs inputs = RunInputs.read(sequence, sheet);
    return ForecastNight.forecast(inputs, SimulatedBenchSession.anyPorts(), Optional.empty())
        .values()
        .stream()
        .filter(k -> k.quantity() == ResultQuantity.TEMPCO)
        .findFirst()
        .orElseThrow();
  }

  @Test
  void predictedAgainstAchievedOfOneRange() throws IOException {
    Path sequence = Files.writeString(folder.resolve("one.yaml"), ONE_RANGE);
    nights(RunInputs.read(sequence, SHEET), FEW, Optional.empty());
    for (Map<ResultQuantity, List<AchievedRatio>> by : List.of(alone, like)) {
      List<AchievedRatio> ratios = by.getOrDefault(ResultQuantity.LOAD_REGULATION, List.of());
      assertTrue(ratios.size() >= FEW - 1, "ratios " + ratios);
      assertTrue(ratios.stream().filter(r -> !r.isWithin()).count() <= 1, "ratios " + ratios);
    }
  }
}
