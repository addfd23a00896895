// SPDX-License-Identifier: Apache-2.0
package millrace.cli.draft;

import static millrace.bench.role.RoleName.SHUNT_VOLTMETER;

import java.util.ArrayList;
import java.util.EnumSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.bench.role.RoleName;
import millrace.link.LinkAddress;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** A first bench file: the instruments with their roles, addresses and accuracies. */
public final class StarterBenchFile {
  private static final Set<RoleName> METERS =
      EnumSet.of(RoleName.CURRENT_METER, RoleName.VOLTMETER, SHUNT_VOLTMETER);

  private static final String BY_HAND = "by hand";

  /** The order of the safe state: the source, its supply, then the rest. */
  private static final List<RoleName> SAFE_ORDER =
      List.of(
          RoleName.RANGE_SELECTOR,
          RoleName.SUPPLY,
          RoleName.LOAD,
          RoleName.CHAMBER,
          RoleName.SWITCH);

  private final StarterFileInterview ask;
  private final List<String> drivers;
  private final List<String> ports;
  private final Map<String, Instrument> instruments = new LinkedHashMap<>();
  private boolean voltmeter;
  private String lowest = "";
  private String highest = "";

  private StarterBenchFile(StarterFileInterview ask, List<String> drivers, List<String> ports) {
    this.ask = ask;
    this.drivers = drivers;
    this.ports = ports;
  }

  /** An instrument with the text of each of its roles. */
  private record Instrument(
      String driver, String address, Map<RoleName, String> roles, List<String> ranges) {}

  /**
   * Asks the questions and writes the file.
   *
   * @param ask asks the person
   * @param drivers the known drivers, by name
   * @param ports the serial ports of this machine, as shown to a person
   * @return the text of the file
   */
  public static String text(StarterFileInterview ask, List<String> drivers, List<String> ports) {
    return new StarterBenchFile(ask, drivers, ports).text();
  }

  private String text() {
    String name = ask.text("What is the bench called", "");
    String line = ask.choice("Line frequency", List.of("50 Hz", "60 Hz"), "50 Hz");
    showPorts();
    for (RoleName role : RoleName.values()) {
      if (ask.yes("Is there a " + role.text(), usual(role))) {
        instrument(role);
      }
    }
    StringBuilder file = new StringBuilder();
    file.append(
        "# What is connected. 'millrace schema bench' lists every key; add certificates and"
            + " more\n");
    file.append("# interlocks, then try it with 'millrace bench check'.\n");
    file.append("bench: %s\nline frequency: %s\n".formatted(YamlTextEscaping.of(name), line));
    file.append("before a change: source off\n");
    file.append("safe order: %s\n".formatted(YamlTextEscaping.list(safeOrder())));
    file.append("instruments:\n");
    instruments.forEach((key, each) -> append(file, key, each));
    wiring(file);
    file.append(interlocks());
    return file.toString();
  }

  private void showPorts() {
    ask.say(
        ports.isEmpty()
            ? "This machine shows no serial ports."
            : "Serial ports of this machine: " + String.join("; ", ports));
    ask.say("An address is " + LinkAddress.GRAMMAR + ".");
  }

  private static boolean usual(RoleName role) {
    return switch (role) {
      case CURRENT_METER, LOAD, RANGE_SELECTOR -> true;
      default -> false;
    };
  }

  /** A repeated name means the same instrument in another role. */
  private void instrument(RoleName role) {
    String name = ask.text("  Its name on this bench", role.text().replace(' ', '-'));
    Instrument known = instruments.get(name);
    if (known == null) {
      String driver = ask.choice("  Its driver", drivers, BY_HAND);
      String address = driver.equals(BY_HAND) ? BY_HAND : address();
      known = new Instrument(driver, address, new LinkedHashMap<>(), new ArrayList<>());
      instruments.put(name, known);
    } else {
      ask.say("  The same instrument again, with the driver '" + known.driver() + "'.");
    }
    known.roles().put(role, facts(role));
    if (known.driver().equals(BY_HAND) && METERS.contains(role)) {
      known.ranges().addAll(ranges(role));
    }
    voltmeter |= role == RoleName.VOLTMETER;
  }

  /** A person is told which range to choose. */
  private List<String> ranges(RoleName role) {
    return role == RoleName.CURRENT_METER
        ? ask.quantities(
            "  Its ranges, as on its front", Dimension.CURRENT, "100 uA, 1 mA, 10 mA, 100 mA")
        : ask.quantities(
            "  Its ranges, as on its front", Dimension.VOLTAGE, "100 mV, 1 V, 10 V, 100 V");
  }

  private String address() {
    return ask.ask("  Its address", "", text -> LinkAddress.parse(text).toString());
  }

  private String facts(RoleName role) {
    if (role == RoleName.SUPPLY) {
      String volts =
          ask.positive("  The highest voltage that it may be set to", Dimension.VOLTAGE, "30 V");
      String amperes = ask.positive("  and its current limit", Dimension.CURRENT, "100 mA");
      return "{at most: {voltage: %s, current: %s}}".formatted(volts, amperes);
    }
    if (role == RoleName.CHAMBER) {
      return chamber();
    }
    return METERS.contains(role) ? meter(role) : "{}";
  }

  private String chamber() {
    lowest = ask.quantity("  Its lowest set point", Dimension.TEMPERATURE, "0 degC");
    highest = ask.quantity("  Its highest set point", Dimension.TEMPERATURE, "60 degC");
    String ramp = ask.positive("  Its fastest ramp", Dimension.TEMPERATURE_RATE, "3 K/min");
    return "{between: [%s, %s], ramp at most: %s}".formatted(lowest, highest, ramp);
  }

  private String meter(RoleName role) {
    String reading = ask.quantity("  Accuracy, of reading", Dimension.RATIO, "50 ppm");
    String full = ask.quantity("  Accuracy, of full scale", Dimension.RATIO, "10 ppm");
    String more =
        role == RoleName.CURRENT_METER
            ? "burden: " + ask.quantity("  Its burden", Dimension.RESISTANCE, "5 ohm")
            : "input resistance: "
                + ask.positive("  Its input resistance", Dimension.RESISTANCE, "10 Gohm");
    String input =
        ask.ask(
            "  What its input bears at most, from its manual (Enter alone: not known)",
            "",
            text -> text.isBlank() ? "" : bears(text));
    return "{accuracy: [{reading: %s, full scale: %s, %s}]%s}"
        .formatted(reading, full, more, input);
  }

  private static String bears(String text) {
    if (!(QuantityText.parse(text, Dimension.VOLTAGE) > 0)) {
      throw new IllegalArgumentException(text + " is not above 0 V.");
    }
    return ", input at most: " + text;
  }

  /** The interlocks; a person who reads values is not asked every few seconds. */
  private String interlocks() {
    boolean chamber =
        instruments.values().stream()
            .anyMatch(i -> i.roles().containsKey(RoleName.CHAMBER) && !i.driver().equals(BY_HAND));
    String band = chamber ? "  chamber temperature: [%s, %s]\n".formatted(lowest, highest) : "";
    return "interlocks:\n" + band + "  free disk: 100 MB\n";
  }

  private List<String> safeOrder() {
    List<String> order = new ArrayList<>();
    for (RoleName role : SAFE_ORDER) {
      instruments.forEach(
          (name, each) -> {
            if (each.roles().containsKey(role) && !order.contains(name)) {
              order.add(name);
            }
          });
    }
    return order;
  }

  private static void append(StringBuilder file, String name, Instrument each) {
    file.append("  %s:\n".formatted(YamlTextEscaping.of(name)));
    file.append("    driver: %s\n".formatted(YamlTextEscaping.of(each.driver())));
    if (!each.ranges().isEmpty()) {
      String ranges = String.join(", ", each.ranges());
      file.append("    settings: {ranges: '%s'}\n".formatted(ranges));
    }
    file.append("    address: %s\n    roles:\n".formatted(YamlTextEscaping.of(each.address())));
    each.roles()
        .forEach((role, facts) -> file.append("      %s: %s\n".formatted(role.text(), facts)));
  }

  private void wiring(StringBuilder file) {
    if (instruments.values().stream().anyMatch(i -> i.roles().containsKey(RoleName.SWITCH))) {
      String position = ask.text("Which position of the switch connects the unit", "1");
      file.append("slots: {unit: %s}\n".formatted(YamlTextEscaping.of(position)));
    }
    file.append("wiring:\n");
    if (instruments.values().stream().anyMatch(i -> i.roles().containsKey(SHUNT_VOLTMETER))) {
      String value = ask.positive("Value of the shunt", Dimension.RESISTANCE, "100 ohm");
      String u = ask.quantity("Standard uncertainty of that", Dimension.RATIO, "5 ppm");
      file.append("  shunt: {value: %s, u: %s}\n".formatted(value, u));
    }
    if (voltmeter) {
      String place =
          ask.choice(
              "Where does the voltmeter sit", List.of("upstream", "across load"), "across load");
      file.append("  voltmeter: %s\n".formatted(place));
    }
    String leads = ask.quantity("Resistance of the leads", Dimension.RESISTANCE, "0.2 ohm");
    file.append("  leads: %s\n".formatted(leads));
  }
}
