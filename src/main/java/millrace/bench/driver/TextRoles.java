// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.HashMap;
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
import millrace.bench.role.RangeSelector;
import millrace.bench.role.Reply;
import millrace.bench.role.Reverser;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.bench.role.Switch;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityException;
import millrace.quantity.QuantityText;

/** The roles of an instrument that speaks by a driver file. */
final class TextRoles {
  private TextRoles() {}

  static Object of(RoleName role, RoleTalk talk, RoleCommands commands) {
    Map<String, NumericQuery.Filled> questions = new HashMap<>();
    commands.questions().forEach((name, q) -> questions.put(name, talk.filled(q)));
    RoleSpeaker speaker = new RoleSpeaker(role, talk, commands, questions);
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

  /**
   * A load; if the bench file gives words for resistances, it can be set to those only.
   *
   * @param speaker speaks
   * @param words the load's word for each resistance, ohm; empty if it takes any
   */
  private record TextLoad(RoleSpeaker speaker, NavigableMap<Double, String> words) implements Load {
    private static final double SAME = 1e-6;

    static TextLoad of(RoleSpeaker speaker) {
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

  private record TextChamber(RoleSpeaker speaker) implements Chamber {
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

  private record TextSelector(RoleSpeaker speaker) implements RangeSelector {
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

  private record TextSupply(RoleSpeaker speaker) implements Supply {
    @Override
    public Reply read() {
      return speaker.read();
    }

    @Override
    public Reply readLast() {
      return speaker.last();
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

  private record TextSwitch(RoleSpeaker speaker) implements Switch {
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
