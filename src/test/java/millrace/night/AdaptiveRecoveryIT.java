// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import millrace.bench.driver.Drivers;
import millrace.evidence.ResultQuantity;
import millrace.logbook.RunFacts;
import millrace.night.forecast.AdaptiveForecast;
import millrace.night.forecast.Earlier;
import millrace.night.forecast.ForecastRun;
import millrace.quantity.NumberText;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Stopping that looks at a run again and again spoils stated intervals where it looks at the values
 * (Armitage, McPherson and Rowe, Repeated significance tests on accumulating data, 1969, from
 * memory: the level of 5 % becomes 14 % after five looks). Here it looks at U alone, and the
 * intervals hold the truth as often as they say: counted over simulated units and benches. The
 * limit of the tempco is so narrow that it depends on the scatter when it is decided.
 */
class AdaptiveRecoveryIT {
  private static final String SEQUENCE =
      """
      sequence: a night with more temperatures than it may need
      readings: {count: 5, line cycles: 10}
      steps:
        - trial lap
        - wait: 90 min
        - at temperatures: [23 degC, 50 degC, 23 degC, 5 degC, 35 degC, 14 degC, 28 degC, 23 degC]
          soak: {within: 2 ppm, at least: 10 min, at most: 2 h}
          do:
            - in ranges: [1uA, 10uA]
              do:
                - zero
                - over loads: {share of compliance: [0 %, 20 %, 40 %, 60 %, 80 %, 90 %, {A} %, {B} %, {C} %, {D} %]}
                  sweep: both
      """;

  private static final String WIDE = "lower: -5 ppm/K, upper: 5 ppm/K";
  private static final String NARROW = "lower: -0.4 ppm/K, upper: 0.4 ppm/K";
  private static final String WITHOUT =
      "  - {quantity: compliance_voltage, range: all, lower: 13.5 V}\n";

  @TempDir private Path folder;

  private static String narrow(String datasheet) {
    return datasheet.replace(WIDE, NARROW).replace(WITHOUT, "");
  }

  private static RunFacts adaptive(RunInputs inputs) {
    Instant evening = Instant.parse("2026-11-25T18:00:00Z");
    Drivers drivers = Drivers.load(Path.of("drivers"));
    try (BenchSession bench =
        BenchSession.simulated(1, new VirtualClock(evening), inputs.datasheet(), drivers)) {
      String text = new String(bench.content(), StandardCharsets.UTF_8);
      ForecastRun.Order order = new ForecastRun.Order(inputs, bench.name(), text, drivers, evening);
      return AdaptiveForecast.of(order, Earlier.NONE).facts();
    }
  }

  private static double mean(List<Double> hours) {
    return hours.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
  }

  private Recovery nights(int units, boolean stops) throws IOException {
    List<RunFacts> known = new ArrayList<>();
    Recovery recovery =
        new Recovery(
            Files.createDirectories(folder.resolve(stops ? "adaptive" : "planned")),
            new Recovery.Variant(
                SEQUENCE,
                AdaptiveRecoveryIT::narrow,
                inputs -> {
                  if (stops && known.isEmpty()) {
                    known.add(adaptive(inputs)); // the same for each seed but for four loads
                  }
                  return stops ? known.get(0) : RunFacts.NONE;
                }));
    for (long seed = 1; seed <= units; seed++) {
      recovery.night(seed);
    }
    return recovery;
  }

  private void recover(int units, int compared, double least) throws IOException {
    Recovery stopped = nights(units, true);
    Recovery planned = nights(compared, false);
    List<String> figures = new ArrayList<>(stopped.figures());
    figures.add(
        "mean hours with adaptive stopping %s (%s to %s), as planned %s; changes of plans %s"
            .formatted(
                NumberText.significant(mean(stopped.hours()), 3),
                NumberText.significant(stopped.hours().stream().min(Double::compare).get(), 3),
                NumberText.significant(stopped.hours().stream().max(Double::compare).get(), 3),
                NumberText.significant(mean(planned.hours()), 3),
                stopped.changes().size()));
    figures.addAll(stopped.changes());
    Path out = Files.createDirectories(Path.of("target", "verification"));
    Files.write(out.resolve("adaptive-%s.txt".formatted(units)), figures);
    assertEquals(List.of(), stopped.mistreatments());
    assertTrue(mean(stopped.hours()) < mean(planned.hours()), figures::toString);
    for (ResultQuantity quantity : Recovery.JUDGED) {
      Recovery.Tally tally = stopped.tally(quantity);
      String said = quantity.key() + ": " + tally;
      assertTrue(tally.values() + tally.bounds() > units, said);
      assertTrue(tally.coverage() >= least, said);
    }
  }

  @Test
  void aFewNightsHoldWhatTheyStateAlthoughTheyWereLookedAt() throws IOException {
    recover(2, 1, 0.8);
  }

  @Test
  @Tag("campaign")
  void manyNightsHoldWhatTheyStateAlthoughTheyWereLookedAt() throws IOException {
    int nights = Integer.getInteger("millrace.adaptive", 200);
    recover(nights, Math.max(1, nights / 20), 0.93);
  }
}
