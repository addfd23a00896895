// SPDX-License-Identifier: Apache-2.0
package millrace.night.forecast;

import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.DoubleSupplier;
import millrace.bench.role.Chamber;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.Reverser;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.quantity.NumberText;

/** The roles of a bench without errors, all connected to one loop. Single-threaded. */
final class NominalRoles {
  private static final double ROOM_DEGC = 23;
  private static final double ROOM_HUMIDITY = 0.45;

  private final NominalLoop loop;
  private final ExpectedScatter scatter;
  private final SplittableRandom random;
  private final NominalMeter.Clocked clock;
  private final Map<RoleName, Object> made = new EnumMap<>(RoleName.class);

  NominalRoles(
      NominalLoop loop,
      ExpectedScatter scatter,
      SplittableRandom random,
      NominalMeter.Clocked clock) {
    this.loop = loop;
    this.scatter = scatter;
    this.random = random;
    this.clock = clock;
  }

  /** The substitute for a role; it has the abilities of the real one. */
  Object of(RoleName role, Object able) {
    return made.computeIfAbsent(role, r -> make(r, able));
  }

  private Object make(RoleName role, Object able) {
    return switch (role) {
      case CURRENT_METER, SHUNT_VOLTMETER, VOLTMETER ->
          new NominalMeter(
              role,
              ((Meter) able).ranges(),
              loop,
              scatter,
              new NoiseStreams(random.split()),
              clock);
      case LOAD -> new NominalLoad(loop, (Load) able);
      case CHAMBER -> new NominalChamber(loop, ((Chamber) able).canRamp());
      case UNIT_THERMOMETER -> sensor(loop::unitDegC);
      case LAB_THERMOMETER, SHUNT_THERMOMETER -> sensor(() -> ROOM_DEGC);
      case HYGROMETER -> sensor(() -> ROOM_HUMIDITY);
      case RANGE_SELECTOR -> new NominalSelector(loop, ((RangeSelector) able).canSwitchOutput());
      case SUPPLY -> new NominalSupply(loop);
      case SWITCH -> new NominalSwitch(loop);
      case REVERSER -> (Reverser) loop::reverse;
    };
  }

  private static Sensor sensor(DoubleSupplier truth) {
    return () -> number(truth.getAsDouble());
  }

  private static Reply number(double value) {
    return new Reply.Number(value, NumberText.print(value));
  }

  private record NominalLoad(NominalLoop loop, Load real) implements Load {
    @Override
    public void set(double resistanceOhm) {
      loop.load(resistanceOhm);
    }

    @Override
    public void shortCircuit(boolean shorted) {
      loop.shortCircuit(shorted);
    }

    @Override
    public boolean canShort() {
      return real.canShort();
    }

    @Override
    public List<Double> settingsOhm() {
      return real.settingsOhm();
    }
  }

  private record NominalChamber(NominalLoop loop, boolean canRamp) implements Chamber {
    @Override
    public void setpoint(double temperatureDegC, double rampKPerS) {
      loop.chamber(temperatureDegC, rampKPerS);
    }

    @Override
    public Reply read() {
      return number(loop.chamberDegC());
    }
  }

  private record NominalSelector(NominalLoop loop, boolean canSwitchOutput)
      implements RangeSelector {
    @Override
    public void select(String range) {
      loop.select(range);
    }

    @Override
    public void output(boolean on) {
      loop.source(on);
    }
  }

  private record NominalSupply(NominalLoop loop) implements Supply {
    @Override
    public void set(double voltageV) {
      loop.supply(voltageV);
    }

    @Override
    public void output(boolean on) {
      loop.supplyOutput(on);
    }

    @Override
    public Reply read() {
      return number(loop.suppliedV());
    }

    @Override
    public Reply readCurrent() {
      return number(Math.abs(loop.currentA()));
    }
  }

  private record NominalSwitch(NominalLoop loop) implements Switch {
    @Override
    public void connect(String position) {
      loop.connect(position);
    }

    @Override
    public void disconnect() {
      loop.disconnect();
    }
  }
}
