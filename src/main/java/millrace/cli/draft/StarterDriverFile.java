// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import millrace.bench.role.RoleName;
import millrace.quantity.Dimension;
import millrace.quantity.EnumWord;

/** A first driver file: one role of an instrument with a text protocol. */
public final class StarterDriverFile {
  private static final List<String> NONE = List.of();

  /** The command for an action, per role; the question contains the placeholders. */
  private static final Map<RoleName, Map<String, String>> ACTIONS = actions();

  private StarterDriverFile() {}

  private static Map<RoleName, Map<String, String>> actions() {
    Map<RoleName, Map<String, String>> all = new LinkedHashMap<>();
    for (RoleName meter :
        List.of(RoleName.CURRENT_METER, RoleName.VOLTMETER, RoleName.SHUNT_VOLTMETER)) {
      all.put(meter, Map.of("prepare", "RANGE {range} CYCLES {cycles}"));
    }
    all.put(RoleName.LOAD, Map.of("set", "R {resistance:ohm}"));
    all.put(RoleName.CHAMBER, Map.of("set", "SET {temperature:degC.2}"));
    all.put(RoleName.RANGE_SELECTOR, Map.of("select", "RANGE {range}"));
    Map<String, String> supply = new LinkedHashMap<>();
    supply.put("set", "VOLT {voltage}");
    supply.put("on", "OUTPUT ON");
    supply.put("off", "OUTPUT OFF");
    all.put(RoleName.SUPPLY, supply);
    Map<String, String> connect = new LinkedHashMap<>();
    connect.put("connect", "CLOSE {position}");
    connect.put("disconnect", "OPEN ALL");
    all.put(RoleName.SWITCH, connect);
    Map<String, String> exchange = new LinkedHashMap<>();
    exchange.put("forward", "POLARITY NORMAL");
    exchange.put("reverse", "POLARITY INVERTED");
    all.put(RoleName.REVERSER, exchange);
    return all;
  }

  /**
   * Asks the questions and writes the file.
   *
   * @param ask asks the person
   * @return the text of the file
   */
  public static String text(StarterFileInterview ask) {
    StringBuilder file = new StringBuilder();
    file.append("# How one kind of instrument is spoken to. drivers/README.md shows every key.\n");
    file.append(
        "driver: %s\n".formatted(YamlTextEscaping.of(ask.text("What is the driver called", ""))));
    String ending = ask.choice("What ends a command", List.of("LF", "CR", "CRLF", "none"), "LF");
    file.append("line ending: %s\n".formatted(ending));
    String identity = ask.text("Which question asks who it is", "*IDN?");
    file.append("identity: {ask: %s, matches: '.'}\n".formatted(quoted(identity)));
    RoleName role = role(ask);
    List<String> safe = safe(ask, role);
    if (!safe.isEmpty()) {
      file.append("safe:\n");
      safe.forEach(command -> file.append("  - %s\n".formatted(quoted(command))));
    }
    file.append(role.text()).append(":\n");
    actions(file, ask, role);
    reading(file, ask, role);
    return file.toString();
  }

  private static RoleName role(StarterFileInterview ask) {
    List<String> words = Stream.of(RoleName.values()).map(RoleName::text).toList();
    String word = ask.choice("What does it do in a run", words, RoleName.CURRENT_METER.text());
    return EnumWord.find(RoleName.class, word).orElseThrow();
  }

  private static List<String> safe(StarterFileInterview ask, RoleName role) {
    String usual =
        switch (role) {
          case LOAD -> "SHORT ON";
          case CHAMBER -> "SET 23";
          case RANGE_SELECTOR -> "SOURCE OFF";
          case SUPPLY -> "OUTPUT OFF";
          case SWITCH -> "OPEN ALL";
          default -> "";
        };
    return usual.isEmpty() ? NONE : List.of(ask.text("Which command makes it safe", usual));
  }

  private static void actions(StringBuilder file, StarterFileInterview ask, RoleName role) {
    ACTIONS
        .getOrDefault(role, Map.of())
        .forEach(
            (action, usual) -> {
              String command = ask.text("Command to " + action, usual);
              file.append("  %s: [%s]\n".formatted(action, quoted(command)));
            });
  }

  private static void reading(StringBuilder file, StarterFileInterview ask, RoleName role) {
    boolean reads =
        switch (role) {
          case LOAD, RANGE_SELECTOR, SWITCH, REVERSER -> false;
          default -> true;
        };
    if (reads) {
      String usual = role == RoleName.HYGROMETER ? "HUM?" : "READ?";
      String question = ask.text("Which question asks for the reading", usual);
      String unit = role == RoleName.HYGROMETER ? ", unit: '%'" : "";
      file.append("  read: {ask: %s%s}\n".formatted(quoted(question), unit));
    }
    if (ACTIONS.getOrDefault(role, Map.of()).containsKey("prepare")) {
      ranges(file, ask, role);
    }
  }

  private static void ranges(StringBuilder file, StarterFileInterview ask, RoleName role) {
    boolean current = role == RoleName.CURRENT_METER;
    List<String> full =
        ask.quantities(
            "Full scale of each range",
            current ? Dimension.CURRENT : Dimension.VOLTAGE,
            current ? "2 uA, 20 uA, 200 uA, 2 mA, 20 mA" : "1 V, 10 V, 100 V");
    List<String> lines = new ArrayList<>();
    full.forEach(f -> lines.add("    - {full scale: %s}\n".formatted(f)));
    file.append("  ranges:\n");
    lines.forEach(file::append);
  }

  /** Always in quotes, since commands hold braces, question marks and stars. */
  private static String quoted(String command) {
    return "'" + command.replace("'", "''") + "'";
  }
}
