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
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import millrace.evidence.ResultQuantity;
import millrace.night.RunInputs;
import millrace.night.SimulatedBenchSession;
import millrace.night.forecast.ForecastNight.Known;
import millrace.sim.truth.SimulatedBenchSpec;
import org.apache.commons.math3.distribution.FDistribution;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Predicted U over the U that came out, of nights on simulated benches whose units and errors are
 * drawn: from the bench file and datasheet alone, and like the night before. It prints its figures
 * into {@code target/benchmarks/forecast.txt}.
 */
class ForecastAgainstNightsIT {
  private static final int NIGHTS = Integer.getInteger("millrace.nights", 100);
  private static final int FEW = 4;

  /** From so many degrees of freedom on U is known to 13 %. */
  private static final double MANY = 30;

  /** What three visits to T_ref leave to tell slow noise by. */
  private static final double VISITS = 2;

  /** The middle of three draws is known as well as twice the degrees of freedom of one. */
  private static final double OF_MIDDLE = 2;

  private static final String BENCH_ALONE = "bench file and datasheet alone";
  private static final String LIKE = "like the night before";

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

  @TempDir private Path folder;
  private final Map<ResultQuantity, List<Ratio>> alone = new EnumMap<>(ResultQuantity.class);
  private final Map<ResultQuantity, List<Ratio>> like = new EnumMap<>(ResultQuantity.class);

  /** Predicted over achieved, with the degrees of freedom of the latter. */
  private record Ratio(String range, double value, double degrees) {
    boolean isWellKnown() {
      return degrees >= MANY;
    }

    boolean isWithin() {
      return isWellKnown()
          ? value >= 0.8 && value <= 1.25
          : value >= end(0.025) && value <= end(0.975);
    }

    /** Both variances are chi-square distributed over their degrees of freedom. */
    private double end(double probability) {
      return Math.sqrt(
          new FDistribution(OF_MIDDLE * degrees, degrees)
              .inverseCumulativeProbability(probability));
    }
  }

  private void nights(RunInputs inputs, int nights) {
    String bench = SimulatedBenchSession.anyPorts();
    Map<List<Object>, Known> predicted = ForecastNight.forecast(inputs, bench, Optional.empty());
    Map<List<Object>, Known> likeBefore = Map.of();
    for (long seed = 1; seed <= nights; seed++) {
      try (ForecastNight night =
          ForecastNight.of(folder, inputs, SimulatedBenchSpec.demo(), seed)) {
        Map<List<Object>, Known> achieved = night.known();
        take(alone, predicted, achieved);
        take(like, likeBefore, achieved);
        likeBefore = ForecastNight.forecast(inputs, bench, Optional.of(night.reader()));
      }
    }
  }

  private static void take(
      Map<ResultQuantity, List<Ratio>> to,
      Map<List<Object>, Known> predicted,
      Map<List<Object>, Known> achieved) {
    achieved.forEach(
        (limit, came) -> {
          Known said = predicted.get(limit);
          if (said != null) {
            double degrees =
                came.quantity() == ResultQuantity.TEMPCO
                    ? VISITS
                    : came.degrees().orElse(Double.POSITIVE_INFINITY);
            to.computeIfAbsent(came.quantity(), q -> new ArrayList<>())
                .add(new Ratio(came.range(), said.expanded() / came.expanded(), degrees));
          }
        });
  }

  private static List<String> table(String head, Map<ResultQuantity, List<Ratio>> by) {
    List<String> lines = new ArrayList<>(List.of(head + ": predicted U over achieved U"));
    by.forEach(
        (quantity, ratios) -> {
          lines.add(row(quantity.key(), ratios));
          ratios.stream()
              .map(Ratio::range)
              .distinct()
              .forEach(
                  range ->
                      lines.add(
                          row(
                              "  " + range,
                              ratios.stream().filter(r -> r.range().equals(range)).toList())));
        });
    return lines;
  }

  private static String row(String name, List<Ratio> ratios) {
    double[] rising = ratios.stream().mapToDouble(Ratio::value).sorted().toArray();
    return String.format(
        Locale.ROOT,
        "  %-22s n %4d: 2.5 %% %.2f, median %.2f, 97.5 %% %.2f; within %.1f %% (%s)",
        name,
        rising.length,
        rising[(int) (0.025 * rising.length)],
        rising[rising.length / 2],
        rising[(int) (0.975 * rising.length)],
        100 * within(ratios.stream()),
        ratios.stream().allMatch(Ratio::isWellKnown) ? "0.8 to 1.25" : "of its degrees of freedom");
  }

  private static double within(Stream<Ratio> ratios) {
    return ratios.mapToInt(r -> r.isWithin() ? 1 : 0).average().orElse(0);
  }

  @Test
  @Tag("campaign")
  void predictedAgainstAchievedOverManyNights() throws IOException {
    nights(
        RunInputs.read(
            Path.of("sequences/short-night.yaml"), Path.of("examples/fx-3.datasheet.yaml")),
        NIGHTS);
    List<String> lines = new ArrayList<>();
    lines.add(NIGHTS + " nights of sequences/short-night.yaml");
    lines.addAll(table(BENCH_ALONE, alone));
    lines.addAll(table(LIKE, like));
    Path file = Files.createDirectories(Path.of("target", "benchmarks")).resolve("forecast.txt");
    Files.write(file, lines);
    assertEquals(like.keySet(), alone.keySet());
    like.forEach(
        (quantity, ratios) ->
            assertTrue(
                within(ratios.stream()) >= 0.95, quantity + "\n" + String.join("\n", lines)));
  }

  @Test
  void predictedAgainstAchievedOfOneRange() throws IOException {
    Path sequence = Files.writeString(folder.resolve("one.yaml"), ONE_RANGE);
    nights(RunInputs.read(sequence, Path.of("examples/fx-3.datasheet.yaml")), FEW);
    for (Map<ResultQuantity, List<Ratio>> by : List.of(alone, like)) {
      List<Ratio> ratios = by.getOrDefault(ResultQuantity.LOAD_REGULATION, List.of());
      assertTrue(ratios.size() >= FEW - 1, "ratios " + ratios);
      assertTrue(ratios.stream().filter(r -> !r.isWithin()).count() <= 1, "ratios " + ratios);
    }
  }
}
