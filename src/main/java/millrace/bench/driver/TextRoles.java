package millrace.bench.driver;

import java.util.List;
import java.util.Map;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Chamber;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;

/** The roles of an instrument that speaks by a driver file. */
final class TextRoles {
  private TextRoles() {}

  static Object of(RoleName role, TextInstrument instrument, RoleCommands commands) {
    Speaker speaker = new Speaker(instrument, commands);
    return switch (role) {
      case CURRENT_METER, VOLTMETER, SHUNT_VOLTMETER -> new TextMeter(speaker);
      case LOAD -> new TextLoad(speaker);
      case CHAMBER -> new TextChamber(speaker);
      case UNIT_THERMOMETER, LAB_THERMOMETER, SHUNT_THERMOMETER, HYGROMETER ->
          (Sensor) speaker::read;
      case RANGE_SELECTOR -> new TextSelector(speaker);
      case SUPPLY -> new TextSupply(speaker);
      case SWITCH -> new TextSwitch(speaker);
    };
  }

  /** Says actions and asks numbers by name. */
  private record Speaker(TextInstrument instrument, RoleCommands commands) {
    void say(String action, Map<String, Object> values) {
      instrument.perform(commands.actions().getOrDefault(action, List.of()), values);
    }

    boolean can(String action) {
      return commands.actions().containsKey(action);
    }

    Reply read() {
      return read("read");
    }

    Reply read(String number) {
      Question question = commands.questions().get(number);
      if (question == null) {
        return new Reply.NotANumber("(the driver cannot " + number + ")");
      }
      return instrument.number(question);
    }
  }

  private record TextMeter(Speaker speaker) implements Meter {
    @Override
    public Reply read() {
      return speaker.read();
    }

    @Override
    public List<MeterRange> ranges() {
      return speaker.commands().ranges();
    }

    @Override
    public void prepare(MeterRange range, double lineCycles) {
      speaker.say("prepare", Map.of("range", range.fullScale(), "cycles", lineCycles));
    }

    @Override
    public Map<String, String> readBack() {
      return speaker.instrument().readBack(speaker.commands());
    }
  }

  private record TextLoad(Speaker speaker) implements Load {
    @Override
    public void set(double resistanceOhm) {
      speaker.say("set", Map.of("resistance", resistanceOhm));
    }

    @Override
    public void shortCircuit(boolean shorted) {
      speaker.say(shorted ? "short" : "unshort", Map.of());
    }

    @Override
    public boolean canShort() {
      return speaker.can("short") && speaker.can("unshort");
    }
  }

  private record TextChamber(Speaker speaker) implements Chamber {
    @Override
    public Reply read() {
      return speaker.read();
    }

    @Override
    public void setpoint(double temperatureDegC, double rampKPerS) {
      if (speaker.can("ramp") && !Double.isInfinite(rampKPerS)) {
        speaker.say("ramp", Map.of("rate", rampKPerS));
      }
      speaker.say("set", Map.of("temperature", temperatureDegC));
    }
  }

  private record TextSelector(Speaker speaker) implements RangeSelector {
    @Override
    public void select(String range) {
      speaker.say("select", Map.of("range", range));
    }

    @Override
    public void output(boolean on) {
      speaker.say(on ? "on" : "off", Map.of());
    }

    @Override
    public boolean canSwitchOutput() {
      return speaker.can("on") && speaker.can("off");
    }
  }

  private record TextSupply(Speaker speaker) implements Supply {
    @Override
    public Reply read() {
      return speaker.read();
    }

    @Override
    public void set(double voltageV) {
      speaker.say("set", Map.of("voltage", voltageV));
    }

    @Override
    public void output(boolean on) {
      speaker.say(on ? "on" : "off", Map.of());
    }

    @Override
    public Reply readCurrent() {
      return speaker.read("read current");
    }
  }

  private record TextSwitch(Speaker speaker) implements Switch {
    @Override
    public void connect(String position) {
      speaker.say("connect", Map.of("position", position));
    }

    @Override
    public void disconnect() {
      speaker.say("disconnect", Map.of());
    }
  }
}
