// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.random.RandomGenerator;
import java.util.stream.Stream;
import millrace.analysis.response.PredictionCondition;
import millrace.analysis.response.ResponseValidityDomain;
import millrace.assessment.Assessment;
import millrace.assessment.Assessor;
import millrace.assessment.Predictions;
import millrace.bench.driver.Drivers;
import millrace.evidence.ComputationOutcome;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.Result;
import millrace.evidence.ResultConditionKey;
import millrace.evidence.ResultQuantity;
import millrace.logbook.Logbook;
import millrace.logbook.RunFacts;
import millrace.logbook.RunReader;
import millrace.logbook.RunStart;
import millrace.quantity.NumberText;
import millrace.run.control.RunOutcome;
import millrace.run.control.StopRequest;
import millrace.sim.truth.SimulatedUnit;
import millrace.sim.truth.SimulatedUnitSpec;
import millrace.time.Seeds;
import millrace.time.VirtualClock;

/**
 * Short nights on simulated benches whose units and errors are known: what was found is held
 * against what was seeded.
 */
final class Recovery {
  /** The quantities that are held against the truth. */
  static final List<ResultQuantity> JUDGED =
      List.of(
          ResultQuantity.CURRENT_ERROR,
          ResultQuantity.OUTPUT_RESISTANCE,
          ResultQuantity.COMPLIANCE_VOLTAGE,
          ResultQuantity.TEMPCO);

  private static final int HELD_OUT = 20;
  private static final Instant EVENING = Instant.parse("2026-11-25T18:00:00Z");
  private static final List<String> RANGES = List.of("1uA", "10uA");
  private static final String SEQUENCE =
      """
      sequence: a short night
      readings: {count: 5, line cycles: 10}
      steps:
        - trial lap
        - wait: 90 min
        - at temperatures: [23 degC, 40 degC, 23 degC, 10 degC]
          soak: {within: 2 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: [1uA, 10uA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 20 %, 40 %, 60 %, 80 %, {A} %, {B} %, {C} %, {D} %]}
                  sweep: both
      """;

  /** The reference temperature is visited twice, and soaks end late. */
  static final Variant VISITED_TWICE = new Variant(SEQUENCE, text -> text, inputs -> RunFacts.NONE);

  private final Map<ResultQuantity, Tally> tallies = new EnumMap<>(ResultQuantity.class);
  private final Tally predicted = new Tally();
  private final List<String> mistreatments = new ArrayList<>();
  private final Path folder;
  private final Variant variant;
  private final List<Double> hours = new ArrayList<>();
  private final List<String> changes = new ArrayList<>();

  Recovery(Path folder, Variant variant) {
    this.folder = folder;
    this.variant = variant;
    JUDGED.forEach(q -> tallies.put(q, new Tally()));
  }

  /**
   * Nights of another kind.
   *
   * @param sequence with {A} to {D} for loads near the knee, in % of the compliance voltage
   * @param datasheet what is otherwise in the example datasheet
   * @param facts what each run is begun with
   */
  record Variant(
      String sequence, UnaryOperator<String> datasheet, Function<RunInputs, RunFacts> facts) {}

  /** Hours of each night. */
  List<Double> hours() {
    return hours;
  }

  /** What the nights changed of their plans. */
  List<String> changes() {
    return changes;
  }

  /** How one quantity fared. */
  static final class Tally {
    private int values;
    private int inside;
    private int bounds;
    private int onTheirSide;
    private final List<Double> shares = new ArrayList<>();
    private final List<String> misses = new ArrayList<>();

    private void value(ComputationOutcome.Value v, double truth, String where) {
      ComputationOutcome.Uncertainty u = v.uncertainty().orElseThrow();
      values++;
      shares.add(Math.abs(v.value() - truth) / u.expanded());
      if (truth >= u.lower() && truth <= u.upper()) {
        inside++;
      } else {
        misses.add("%s: %s, truth %s, U %s".formatted(where, v.value(), truth, u.expanded()));
      }
    }

    private void bound(ComputationOutcome.Bound b, double truth) {
      bounds++;
      boolean above = b.side() == ComputationOutcome.Side.ABOVE;
      onTheirSide += above == truth > b.value() ? 1 : 0;
    }

    int values() {
      return values;
    }

    int bounds() {
      return bounds;
    }

    double coverage() {
      return values == 0 ? 1 : (double) inside / values;
    }

    int boundMisses() {
      return bounds - onTheirSide;
    }

    double boundCoverage() {
      return bounds == 0 ? 1 : (double) onTheirSide / bounds;
    }

    double medianShare() {
      double[] sorted = shares.stream().mapToDouble(Double::doubleValue).sorted().toArray();
      return sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2];
    }

    @Override
    public String toString() {
      return NumberText.format(
          "%s values, %.3f of them cover the truth, median |error|/U %.2f; "
              + "%s bounds, %.3f on their side; %s",
          values, coverage(), medianShare(), bounds, boundCoverage(), misses);
    }
  }

  /** One unit on one bench, both drawn with a seed. */
  void night(long seed) throws IOException {
    RunInputs inputs = inputs(seed);
    VirtualClock clock = new VirtualClock(EVENING);
    Path file = folder.resolve("night-" + seed + ".db");
    try (Logbook book = Logbook.openOrCreate(file);
        BenchSession setting =
            BenchSession.simulated(
                seed, clock, inputs.datasheet(), Drivers.load(Path.of("drivers")))) {
      RunOutcome outcome =
          new Night(inputs, setting, book, nobody())
              .begin(UnitUnderTest.of("FX3-00042").with(variant.facts().apply(inputs)));
      SimulatedBenchSession simulation = setting.simulation().orElseThrow();
      mistreatments.addAll(simulation.mistreatments());
      RunReader reader = book.reader(outcome.run());
      Assessment assessment = Assessor.assess(reader);
      hours.add(clock.elapsed().toMillis() / 3.6e6);
      reader.incidents().stream()
          .filter(i -> i.kind() == IncidentKind.NOTE)
          .forEach(i -> changes.add("seed " + seed + " " + i.text()));
      reader.planChanges().forEach(c -> changes.add("seed " + seed + " " + c.inOneLine()));
      judge(assessment, simulation.unit(), visited(reader), seed);
      predict(assessment, simulation.unit(), seed);
    }
  }

  /**
   * The sequence; its loads near the knee move with the seed, as they would from bench to bench.
   */
  private RunInputs inputs(long seed) throws IOException {
    double first = 97 + seed % 10 * 0.4;
    String text = variant.sequence();
    for (String name : List.of("A", "B", "C", "D")) {
      text = text.replace("{" + name + "}", NumberText.fixed(first, 1));
      first += 4;
    }
    Path sequence = Files.writeString(folder.resolve("night-" + seed + ".yaml"), text);
    String sheet = Files.readString(Path.of("examples/fx-3.datasheet.yaml"));
    Path datasheet = folder.resolve("fx-3.datasheet.yaml");
    Files.writeString(datasheet, variant.datasheet().apply(sheet));
    return RunInputs.read(sequence, datasheet);
  }

  /** The temperatures that were measured at, stay by stay. */
  private static List<Double> visited(RunReader reader) {
    List<Double> visited = new ArrayList<>();
    String before = "";
    for (Point p : reader.points()) {
      String stay = p.key().split("/")[0];
      if (p.kind() == PointKind.MEASURE && !stay.equals(before)) {
        visited.add(p.conditions().temperatureDegC().orElseThrow());
        before = stay;
      }
    }
    return visited;
  }

  private static OperatorAttendance nobody() {
    return new OperatorAttendance(
        RunStart.People.NONE,
        question -> "",
        List.of(),
        new StopRequest(run -> "Go on with: millrace run --resume " + run),
        List.of());
  }

  private void judge(Assessment assessment, SimulatedUnit unit, List<Double> visited, long seed) {
    for (Result result : assessment.results()) {
      Tally tally = tallies.get(result.quantity());
      boolean measured = result.range().filter(RANGES::contains).isPresent();
      // A limit that promises more than this night measured has no value; its result stands beside.
      boolean open =
          result.judgement().isPresent() && result.outcome() instanceof ComputationOutcome.Missing;
      if (tally != null && measured && !open && truth(result, unit, visited).isPresent()) {
        double truth = truth(result, unit, visited).orElseThrow();
        String where =
            "seed %s %s %s".formatted(seed, result.range().orElse(""), result.at().all());
        result
            .outcome()
            .accept(
                new ComputationOutcome.Visitor<Boolean>() {
                  @Override
                  public Boolean value(ComputationOutcome.Value value) {
                    tally.value(value, truth, where);
                    return true;
                  }

                  @Override
                  public Boolean bound(ComputationOutcome.Bound bound) {
                    tally.bound(bound, truth);
                    return true;
                  }

                  @Override
                  public Boolean missing(ComputationOutcome.Missing missing) {
                    throw new AssertionError(where + ": " + missing.reason());
                  }
                });
      }
    }
  }

  /** Predictions at temperatures and voltages that no night has visited. */
  private void predict(Assessment assessment, SimulatedUnit unit, long seed) {
    RandomGenerator chance = new Seeds(seed).stream("held-out conditions");
    Predictions predictions = new Predictions(assessment, false);
    for (String range : RANGES) {
      ResponseValidityDomain domain = assessment.response().range(range).orElseThrow().domain();
      for (int i = 0; i < HELD_OUT; i++) {
        double degC = 11 + 28 * chance.nextDouble();
        double volts = domain.edgeV(degC) * chance.nextDouble();
        PredictionCondition where = PredictionCondition.atVoltage(degC, volts);
        Predictions.Answer answer = predictions.of(new Predictions.Asked(range, where));
        double value = answer.prediction().value().orElseThrow().currentA().value();
        predicted.value(
            new ComputationOutcome.Value(value, answer.uncertainty(), 1),
            unit.truth(range, degC).currentA(volts),
            "seed %s %s %s degC %s V".formatted(seed, range, degC, volts));
      }
    }
  }

  /** How predictions at conditions that were not visited fared. */
  Tally predicted() {
    return predicted;
  }

  /** The truth of a result; empty where this harness knows none. */
  private static Optional<Double> truth(Result r, SimulatedUnit unit, List<Double> visited) {
    String range = r.range().orElse("");
    boolean corrected = r.at().number(ResultConditionKey.TEMPERATURE_DEGC).isEmpty();
    double degC =
        r.at().number(ResultConditionKey.TEMPERATURE_DEGC).orElse(SimulatedUnitSpec.REFERENCE_DEGC);
    return switch (r.quantity()) {
      case CURRENT_ERROR ->
          corrected
              ? Optional.of((unit.truth(range, degC).currentA(0) / nominalA(range) - 1) * 1e6)
              : Optional.empty();
      case OUTPUT_RESISTANCE -> Optional.of(1 / unit.truth(range, degC).line(1e-3).conductanceS());
      case COMPLIANCE_VOLTAGE -> Optional.of(unit.truth(range, degC).line(1e-3).complianceV());
      case TEMPCO -> Optional.of(unit.tempcoPerK(range, 0, visited) * 1e6);
      default -> Optional.empty();
    };
  }

  private static double nominalA(String range) {
    return range.equals("1uA") ? 1e-6 : 1e-5;
  }

  Tally tally(ResultQuantity quantity) {
    return tallies.get(quantity);
  }

  List<String> mistreatments() {
    return mistreatments;
  }

  /** The figures, for people. */
  List<String> figures() {
    return Stream.concat(
            JUDGED.stream().map(q -> q.key() + ": " + tallies.get(q)),
            Stream.of("predictions at conditions that were not visited: " + predicted))
        .toList();
  }
}
