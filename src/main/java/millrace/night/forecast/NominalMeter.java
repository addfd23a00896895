// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.evidence.setting.MeterSettings;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.quantity.TimeSpanSeconds;
import millrace.sequence.BenchSpeeds;
import millrace.time.TimeSource;
import org.jspecify.annotations.Nullable;

/**
 * A meter with the ranges of a real one: it shows the true value with its noise, rounded to its
 * resolution. Single-threaded.
 */
final class NominalMeter implements Meter {
  private final RoleName role;
  private final List<MeterRange> ranges;
  private final NominalLoop loop;
  private final ExpectedScatter scatter;
  private final NoiseStreams noise;
  private final Clocked clock;
  private @Nullable MeterRange on;
  private double cycles = 1;

  /**
   * The clock that advances by the time of a reading.
   *
   * @param time the clock
   * @param speeds how fast the bench is
   */
  record Clocked(TimeSource time, BenchSpeeds speeds) {
    double lineHz() {
      return speeds.lineHz();
    }

    void pass(double lineCycles) {
      try {
        time.sleep(TimeSpanSeconds.ofSeconds(speeds.readingS(lineCycles)));
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
      }
    }
  }

  NominalMeter(
      RoleName role,
      List<MeterRange> ranges,
      NominalLoop loop,
      ExpectedScatter scatter,
      NoiseStreams noise,
      Clocked clock) {
    this.role = role;
    this.ranges = List.copyOf(ranges);
    this.loop = loop;
    this.scatter = scatter;
    this.noise = noise;
    this.clock = clock;
  }

  @Override
  public List<MeterRange> ranges() {
    return ranges;
  }

  @Override
  public void prepare(MeterRange range, double lineCycles) {
    on = range;
    cycles = lineCycles;
    loop.meter(role, range.fullScale());
  }

  @Override
  public MeterSettings readBack() {
    Map<String, String> settings = new LinkedHashMap<>();
    if (on != null) {
      settings.put("range", shown(on.fullScale()));
      settings.put("cycles", NumberText.print(cycles));
    }
    return MeterSettings.of(settings);
  }

  private String shown(double value) {
    return QuantityText.print(
        value, role == RoleName.CURRENT_METER ? Dimension.CURRENT : Dimension.VOLTAGE);
  }

  @Override
  public Reply read() {
    clock.pass(cycles);
    MeterRange range = on == null ? ranges.get(ranges.size() - 1) : on;
    double step = range.resolution();
    double sigma = scatter.ofReading(role, range, shown(range.fullScale()), cycles);
    double value =
        loop.read(role, cycles / clock.lineHz()) + sigma * noise.of(loop.range()).nextGaussian();
    if (Math.abs(value) > range.highest()) {
      return new Reply.Overload("beyond the range");
    }
    double stepped = step > 0 ? Math.rint(value / step) * step : value;
    return new Reply.Number(stepped, NumberText.print(stepped));
  }
}
