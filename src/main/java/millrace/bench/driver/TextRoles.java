// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Chamber;
import millrace.bench.role.Load;
import millrace.bench.role.Meter;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.Reverser;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.evidence.setting.MeterSettings;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.link.WireText;
import millrace.quantity.Dimension;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/** The roles of an instrument that speaks by a driver file. */
final class TextRoles {
  private TextRoles() {}

  static Object of(RoleName role, RoleTalk talk, RoleCommands commands) {
    Map<String, NumericQuery.Filled> questions = new HashMap<>();
    commands.questions().forEach((name, q) -> questions.put(name, talk.filled(q)));
    Speaker speaker = new Speaker(role, talk, commands, questions);
    return switch (role) {
      case CURRENT_METER, VOLTMETER, SHUNT_VOLTMETER -> new TextMeter(speaker);
      case LOAD -> TextLoad.of(speaker);
      case CHAMBER -> new TextChamber(speaker);
      case UNIT_THERMOMETER, LAB_THERMOMETER, SHUNT_THERMOMETER, HYGROMETER ->
          (Sensor) speaker::read;
      case RANGE_SELECTOR -> new TextSelector(speaker);
      case SUPPLY -> new TextSupply(speaker);
      case SWITCH -> new TextSwitch(speaker);
      case REVERSER ->
          (Reverser) reversed -> speaker.say(reversed ? "reverse" : "forward", Map.of());
    };
  }

  /** Carries out actions and queries by name. */
  private record Speaker(
      RoleName role,
      RoleTalk talk,
      RoleCommands commands,
      Map<String, NumericQuery.Filled> questions) {
    void say(String action, Map<String, ?> values) {
      List<Exchange> exchanges = commands.actions().get(action);
      if (exchanges == null) {
        throw talk.refusal(role, "the driver cannot " + action, "a driver that can");
      }
      talk.perform(role, action, exchanges, values);
    }

    boolean can(String action) {
      return commands.actions().containsKey(action);
    }

    Reply read() {
      return read("read");
    }

    Reply read(String number) {
      return talk.number(role, question(number));
    }

    Reply glance(String number) {
      return talk.glance(role, question(number));
    }

    private NumericQuery.Filled question(String number) {
      NumericQuery.Filled question = questions.get(number);
      if (question == null) {
        throw talk.refusal(role, "the driver cannot " + number, "a driver that can");
      }
      return question;
    }

    boolean knows(String number) {
      return questions.containsKey(number);
    }
  }

  private record TextMeter(Speaker speaker) implements Meter {
    private static final String RANGE = "read range";
    private static final String CYCLES = "read cycles";

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
      if (speaker.knows(RANGE)) {
        confirm(range);
      }
    }

    /** A meter on another range than requested would be judged by the wrong accuracy statement. */
    private void confirm(MeterRange range) {
      Reply reply = speaker.read(RANGE);
      boolean same =
          reply instanceof Reply.Number n
              && n.value() >= range.fullScale() * (1 - 1e-6)
              && n.value() <= range.highest() * (1 + 1e-6);
      if (!same) {
        throw speaker
            .talk()
            .refusal(
                speaker.role(),
                "reads back its range as " + WireText.quoted(reply.raw()),
                shown(range.fullScale()));
      }
    }

    private String shown(double value) {
      Dimension kind =
          speaker.role() == RoleName.CURRENT_METER ? Dimension.CURRENT : Dimension.VOLTAGE;
      return QuantityText.print(value, kind);
    }

    @Override
    public MeterSettings readBack() {
      Map<String, String> settings = new LinkedHashMap<>();
      if (speaker.knows(RANGE) && speaker.read(RANGE) instanceof Reply.Number n) {
        settings.put("range", shown(n.value()));
      }
      if (speaker.knows(CYCLES) && speaker.read(CYCLES) instanceof Reply.Number n) {
        settings.put("cycles", NumberText.print(n.value()));
      }
      settings.putAll(speaker.talk().settings(speaker.role(), speaker.commands()));
      return MeterSettings.of(settings);
    }
  }

  /**
   * A load; if the bench file gives words for resistances, it can be set to those only.
   *
   * @param speaker speaks
   * @param words the load's word for each resistance, ohm; empty if it takes any
   */
  private record TextLoad(Speaker speaker, NavigableMap<Double, String> words) implements Load {
    private static final double SAME = 1e-6;

    static TextLoad of(Speaker speaker) {
      NavigableMap<Double, String> words = new TreeMap<>();
      speaker.talk().words().forEach((text, word) -> words.put(resistance(text), word));
      return new TextLoad(speaker, words);
    }

    private static double resistance(String text) {
      try {
        return QuantityText.parse(text, Dimension.RESISTANCE);
      } catch (QuantityException e) {
        InputFault fault = e.at(FilePlace.of("words"));
        throw new IllegalArgumentException(
            "words: " + fault.found() + "; expected " + fault.expected(), e);
      }
    }

    @Override
    public List<Double> settingsOhm() {
      return List.copyOf(words.keySet());
    }

    @Override
    public void set(double resistanceOhm) {
      speaker.say("set", Map.of("resistance", resistanceOhm, "word", word(resistanceOhm)));
    }

    private String word(double ohm) {
      if (words.isEmpty()) {
        return "";
      }
      for (Map.Entry<Double, String> each : words.entrySet()) {
        if (Math.abs(each.getKey() - ohm) <= SAME * ohm) {
          return each.getValue();
        }
      }
      throw speaker
          .talk()
          .refusal(
              speaker.role(),
              "cannot be set to " + QuantityText.print(ohm, Dimension.RESISTANCE),
              words.keySet().stream()
                  .map(r -> QuantityText.print(r, Dimension.RESISTANCE))
                  .collect(Collectors.joining(", ", "one of ", "")));
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

    @Override
    public boolean canRamp() {
      return speaker.can("ramp");
    }

    @Override
    public Reply glance() {
      return speaker.glance("read");
    }

    @Override
    public Optional<BooleanSupplier> door() {
      return speaker.commands().door().map(door -> () -> speaker.talk().isOpen(door));
    }

    @Override
    public Optional<Supplier<Optional<String>>> alarm() {
      return speaker.commands().alarm().map(alarm -> () -> speaker.talk().alarm(alarm));
    }
  }

  private record TextSelector(Speaker speaker) implements RangeSelector {
    @Override
    public void select(String range) {
      speaker.say("select", Map.of("range", speaker.talk().word(speaker.role(), range)));
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
    public void limit(double currentA) {
      if (speaker.can("limit")) {
        speaker.say("limit", Map.of("current", currentA));
      }
    }

    @Override
    public void output(boolean on) {
      speaker.say(on ? "on" : "off", Map.of());
    }

    @Override
    public Reply readCurrent() {
      return speaker.glance("read current");
    }
  }

  private record TextSwitch(Speaker speaker) implements Switch {
    @Override
    public void connect(String position) {
      speaker.say("connect", Map.of("position", speaker.talk().word(speaker.role(), position)));
    }

    @Override
    public void disconnect() {
      speaker.say("disconnect", Map.of());
    }
  }
}
