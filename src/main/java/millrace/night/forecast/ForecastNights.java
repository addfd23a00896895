// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.bench.driver.Drivers;
import millrace.night.BenchCapabilityCheck;
import millrace.night.RunInputs;
import millrace.planning.LimitForecast;
import millrace.planning.night.NightForecaster;
import millrace.sequence.Plan;
import millrace.sequence.Schedule;

/** Forecasts for planning the time and the results of a night, by computing the run. Immutable. */
public final class ForecastNights implements NightForecaster {
  private static final String NAME = "planned.yaml";

  private final Fixed fixed;
  private final BenchFile file;
  private final List<String> slots;
  private final Earlier earlier;

  /**
   * The inputs common to all nights.
   *
   * @param datasheetName the name of the datasheet
   * @param datasheet its text
   * @param benchName the name of the bench file
   * @param bench its text
   * @param drivers the known drivers
   * @param from the beginning of the night
   */
  public record Fixed(
      String datasheetName,
      String datasheet,
      String benchName,
      String bench,
      Drivers drivers,
      Instant from) {}

  /**
   * Creates it for one bench and datasheet.
   *
   * @param fixed the inputs common to all nights
   * @param slots the filled slots; empty for all
   * @param earlier the data of an earlier unit
   */
  public ForecastNights(Fixed fixed, List<String> slots, Earlier earlier) {
    this.fixed = fixed;
    this.file = BenchForms.read(fixed.benchName(), fixed.bench().getBytes(StandardCharsets.UTF_8));
    this.earlier = earlier;
    this.slots = slots.isEmpty() ? List.copyOf(file.slots().keySet()) : slots;
  }

  private RunInputs inputs(String sequence) {
    return RunInputs.of(NAME, sequence, fixed.datasheetName(), fixed.datasheet());
  }

  @Override
  public Map<String, Double> secondsByPart(String sequence) {
    RunInputs inputs = inputs(sequence);
    Plan plan = inputs.plan(slots);
    return Schedule.of(plan, inputs.datasheet(), earlier.speeds(file)).partsS();
  }

  @Override
  public List<LimitForecast> limits(String sequence, int draws) {
    return limits(ForecastRun.of(order(inputs(sequence)), earlier, draws));
  }

  /**
   * The forecast of a run of a sequence from files, for comparison.
   *
   * @param inputs the sequence with its parts, and the same datasheet
   * @return one forecast for each limit; undecided limits first
   */
  public List<LimitForecast> limits(RunInputs inputs) {
    return limits(ForecastRun.of(order(inputs), earlier, DRAWS_TO_COMPARE));
  }

  private List<LimitForecast> limits(ForecastRun.Computed computed) {
    return LimitForecast.of(computed.results(), file);
  }

  private ForecastRun.Order order(RunInputs inputs) {
    BenchCapabilityCheck.check(inputs.plan(slots), inputs.datasheet(), file);
    return new ForecastRun.Order(
        inputs, fixed.benchName(), fixed.bench(), fixed.drivers(), fixed.from());
  }
}
