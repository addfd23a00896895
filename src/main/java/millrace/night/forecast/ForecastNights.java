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
import millrace.run.soak.BenchSpeedsFromFile;
import millrace.sequence.Plan;
import millrace.sequence.Schedule;

/** Tells planning what a night would take and tell, by computing the run. Immutable. */
public final class ForecastNights implements NightForecaster {
  private static final String NAME = "planned.yaml";

  private final Fixed fixed;
  private final BenchFile file;
  private final List<String> slots;
  private final Earlier earlier;

  /**
   * What is the same for every night.
   *
   * @param datasheetName what the datasheet is called
   * @param datasheet its text
   * @param benchName what the bench file is called
   * @param bench its text
   * @param drivers the drivers there are
   * @param from when the night would begin
   */
  public record Fixed(
      String datasheetName,
      String datasheet,
      String benchName,
      String bench,
      Drivers drivers,
      Instant from) {}

  /**
   * For one bench and datasheet.
   *
   * @param fixed what is the same for every night
   * @param slots those that are filled; empty for all
   * @param earlier what an earlier unit tells
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
    return Schedule.of(plan, inputs.datasheet(), BenchSpeedsFromFile.of(file)).partsS();
  }

  @Override
  public List<LimitForecast> limits(String sequence, int draws) {
    return limits(inputs(sequence), draws);
  }

  /**
   * What a run of a sequence of files will be able to say.
   *
   * @param inputs the sequence with its parts, and the same datasheet
   * @return each limit; what is not decided first
   */
  public List<LimitForecast> limits(RunInputs inputs) {
    return limits(inputs, ForecastRun.USUAL_DRAWS);
  }

  private List<LimitForecast> limits(RunInputs inputs, int draws) {
    BenchCapabilityCheck.check(inputs.plan(slots), inputs.datasheet(), file);
    ForecastRun.Order order =
        new ForecastRun.Order(
            inputs, fixed.benchName(), fixed.bench(), fixed.drivers(), fixed.from());
    return LimitForecast.of(ForecastRun.of(order, earlier, draws).results(), file);
  }
}
