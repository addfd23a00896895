// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.List;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.Reply;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.Shunt;
import millrace.evidence.setting.MeterSettings;

/**
 * A voltmeter across a shunt in place of the current meter. During a run its reading counts as
 * V/R_cal; the reply in volts is stored with it, and R_cal with the settings of each point. Results
 * are computed from the voltage again, with the shunt at its actual temperature and power
 * (methods.md 1.2).
 *
 * @param voltmeter across the shunt
 * @param shunt what it reads
 */
record ShuntMeter(Meter voltmeter, Shunt shunt) implements Meter {
  @Override
  public List<MeterRange> ranges() {
    return voltmeter.ranges().stream().map(r -> times(r, 1 / shunt.calibratedOhm())).toList();
  }

  private static MeterRange times(MeterRange range, double factor) {
    return new MeterRange(
        range.fullScale() * factor, range.highest() * factor, range.resolution() * factor);
  }

  @Override
  public void prepare(MeterRange range, double lineCycles) {
    voltmeter.prepare(voltmeter.ranges().get(ranges().indexOf(range)), lineCycles);
  }

  @Override
  public MeterSettings readBack() {
    return voltmeter.readBack().overShunt(shunt.calibratedOhm());
  }

  @Override
  public MeterSettings readBackAnew() {
    return voltmeter.readBackAnew().overShunt(shunt.calibratedOhm());
  }

  @Override
  public Reply read() {
    return inAmperes(voltmeter.read());
  }

  @Override
  public Reply readLast() {
    return inAmperes(voltmeter.readLast());
  }

  @Override
  public Reply glance() {
    return inAmperes(voltmeter.glance());
  }

  private Reply inAmperes(Reply reply) {
    return reply instanceof Reply.Number n
        ? new Reply.Number(n.value() / shunt.calibratedOhm(), n.raw())
        : reply;
  }

  /** What is known of both together as of a meter of currents, on the safe side. */
  static RoleFacts facts(RoleFacts voltmeter, Shunt shunt) {
    return new RoleFacts(
        voltmeter.accuracy().stream().map(a -> inAmperes(a, shunt)).toList(),
        List.of(),
        voltmeter.box(),
        voltmeter.allowed());
  }

  private static AccuracyStatement inAmperes(AccuracyStatement a, Shunt shunt) {
    double ohm = shunt.calibratedOhm();
    double limit = shunt.uncertainty() * a.coverageFactor().orElse(Math.sqrt(3));
    return new AccuracyStatement(
        a.fullScale().map(v -> v / ohm),
        a.ofReading() + limit,
        a.ofFullScale(),
        a.absolute() / ohm,
        a.coverageFactor(),
        a.transfer(),
        a.noise(),
        a.tempcoPerK(),
        a.bandDegC(),
        ohm,
        shunt.uncertainty(),
        a.inputOhm(),
        a.inputUncertainty());
  }
}
