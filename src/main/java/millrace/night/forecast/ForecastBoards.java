// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.assessment.basis.TypeTestRun;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.logbook.RunReader;
import millrace.night.BenchCapabilityCheck;
import millrace.night.RunInputs;
import millrace.planning.LimitForecast;
import millrace.planning.boards.BoardForecaster;
import millrace.quantity.TimeSpanSeconds;
import millrace.sequence.Plan;
import millrace.sequence.Plan.PlannedPoint;
import millrace.sequence.Schedule;
import millrace.sequence.Task;

/**
 * Forecasts for planning the time and the results of a board test, by computing the run. Immutable.
 */
public final class ForecastBoards implements BoardForecaster {
  private static final String NAME = "planned.yaml";

  private final ForecastNights.Fixed fixed;
  private final BenchFile file;
  private final Earlier scatter;
  private final Optional<TypeTestRun> typeRun;

  /**
   * Creates it for one bench and datasheet.
   *
   * @param fixed the inputs common to all tests
   * @param scatter a run whose scatter of readings is used; empty for the stated or usual noise
   * @param typeRun the values that boards take from a run of their type; empty for none
   */
  public ForecastBoards(
      ForecastNights.Fixed fixed, Optional<RunReader> scatter, Optional<TypeTestRun> typeRun) {
    this.fixed = fixed;
    this.typeRun = typeRun;
    this.file = BenchForms.read(fixed.benchName(), fixed.bench().getBytes(StandardCharsets.UTF_8));
    this.scatter =
        scatter.map(r -> Earlier.of(r, file.lineFrequencyHz()).scatterAlone()).orElse(Earlier.NONE);
  }

  private RunInputs inputs(String sequence) {
    return RunInputs.of(NAME, sequence, fixed.datasheetName(), fixed.datasheet());
  }

  /** A board occupies one place. */
  private Plan plan(RunInputs inputs) {
    return inputs.plan(file.slots().keySet().stream().limit(1).toList());
  }

  @Override
  public List<Stay> stays(String sequence) {
    RunInputs inputs = inputs(sequence);
    Plan plan = plan(inputs);
    Schedule schedule = Schedule.of(plan, inputs.datasheet(), scatter.speeds(file));
    List<Stay> stays = new ArrayList<>();
    boolean measured = false;
    for (int i = 0; i < plan.points().size(); i++) {
      PlannedPoint point = plan.points().get(i);
      double nextS =
          i + 1 < plan.points().size()
              ? TimeSpanSeconds.seconds(schedule.leftFrom(plan.points().get(i + 1)))
              : 0;
      double ownS = TimeSpanSeconds.seconds(schedule.leftFrom(point)) - nextS;
      String range = point.conditions().range().orElse("");
      int last = stays.size() - 1;
      boolean loads = point.task().traits().contains(Task.Trait.LOADED_UNIT);
      boolean passDone = measured && !loads;
      measured = loads;
      if (last >= 0 && stays.get(last).range().equals(range) && !passDone) {
        Stay before = stays.get(last);
        stays.set(last, new Stay(range, before.points() + 1, before.seconds() + ownS));
      } else {
        stays.add(new Stay(range, 1, ownS));
      }
    }
    return stays;
  }

  @Override
  public List<LimitForecast> limits(String sequence, long seed) {
    RunInputs inputs = inputs(sequence);
    BenchCapabilityCheck.check(plan(inputs), inputs.datasheet(), file);
    ForecastRun.Order order =
        new ForecastRun.Order(
            inputs, fixed.benchName(), fixed.bench(), fixed.drivers(), fixed.from(), typeRun);
    return LimitForecast.of(ForecastRun.once(order, scatter, seed), file);
  }
}
