// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import millrace.bench.role.RoleName;
import millrace.quantity.Dimension;

/**
 * What a driver file can define for each role: which actions with which placeholders, and which
 * numbers.
 */
final class RoleGrammar {
  private RoleGrammar() {}

  /**
   * One role.
   *
   * @param required actions that must be there, with the kinds of their placeholders
   * @param optional actions that may be there
   * @param numbers what can be asked for
   * @param readable true if 'read' must be there
   * @param meter true if it has ranges
   */
  record Role(
      Map<String, Map<String, Dimension>> required,
      Map<String, Map<String, Dimension>> optional,
      Map<String, Dimension> numbers,
      boolean readable,
      boolean meter) {}

  static final Map<RoleName, Role> ROLES = roles();

  private static Map<RoleName, Role> roles() {
    Map<RoleName, Role> roles = new EnumMap<>(RoleName.class);
    roles.put(RoleName.CURRENT_METER, meter(Dimension.CURRENT));
    roles.put(RoleName.VOLTMETER, meter(Dimension.VOLTAGE));
    roles.put(RoleName.SHUNT_VOLTMETER, meter(Dimension.VOLTAGE));
    for (RoleName thermometer :
        List.of(RoleName.UNIT_THERMOMETER, RoleName.LAB_THERMOMETER, RoleName.SHUNT_THERMOMETER)) {
      roles.put(thermometer, sensor(Dimension.TEMPERATURE));
    }
    roles.put(RoleName.HYGROMETER, sensor(Dimension.HUMIDITY));
    roles.put(RoleName.LOAD, load());
    roles.put(RoleName.CHAMBER, chamber());
    roles.put(RoleName.RANGE_SELECTOR, selector());
    roles.put(RoleName.SUPPLY, supply());
    roles.put(RoleName.SWITCH, switcher());
    roles.put(RoleName.REVERSER, reverser());
    return roles;
  }

  private static Role meter(Dimension dimension) {
    return new Role(
        ordered("prepare", ordered("range", dimension, "cycles", Dimension.NUMBER)),
        Map.of(),
        ordered(
            "read", dimension, "read range", dimension, ordered("read cycles", Dimension.NUMBER)),
        true,
        true);
  }

  private static Role sensor(Dimension dimension) {
    return new Role(Map.of(), Map.of(), ordered("read", dimension), true, false);
  }

  private static Role load() {
    return new Role(
        ordered("set", ordered("resistance", Dimension.RESISTANCE, "word", Dimension.NUMBER)),
        ordered("short", Map.of(), "unshort", Map.of()),
        ordered("read", Dimension.RESISTANCE),
        false,
        false);
  }

  private static Role chamber() {
    return new Role(
        ordered("set", ordered("temperature", Dimension.TEMPERATURE)),
        ordered("ramp", ordered("rate", Dimension.TEMPERATURE_RATE)),
        ordered("read", Dimension.TEMPERATURE),
        true,
        false);
  }

  private static Role selector() {
    return new Role(
        ordered("select", ordered("range", Dimension.NUMBER)),
        ordered("on", Map.of(), "off", Map.of()),
        Map.of(),
        false,
        false);
  }

  private static Role supply() {
    return new Role(
        ordered(
            "set", ordered("voltage", Dimension.VOLTAGE), "on", Map.of(), ordered("off", Map.of())),
        ordered("limit", ordered("current", Dimension.CURRENT)),
        ordered("read", Dimension.VOLTAGE, "read current", Dimension.CURRENT),
        true,
        false);
  }

  private static Role switcher() {
    return new Role(
        ordered("connect", ordered("position", Dimension.NUMBER), "disconnect", Map.of()),
        Map.of(),
        Map.of(),
        false,
        false);
  }

  private static Role reverser() {
    return new Role(
        ordered("forward", Map.of(), "reverse", Map.of()), Map.of(), Map.of(), false, false);
  }

  private static <V> Map<String, V> ordered(String name, V value) {
    return Map.of(name, value);
  }

  private static <V> Map<String, V> ordered(String name, V value, String next, V itsValue) {
    Map<String, V> all = new LinkedHashMap<>();
    all.put(name, value);
    all.put(next, itsValue);
    return all;
  }

  /** Kept in the order for schema and messages; {@code Map.of} has no fixed order. */
  private static <V> Map<String, V> ordered(
      String name, V value, String next, V itsValue, Map<String, V> more) {
    Map<String, V> all = ordered(name, value, next, itsValue);
    all.putAll(more);
    return all;
  }

  /** Every placeholder that the actions of a role may have. */
  static Set<String> placeholders(RoleName role) {
    Set<String> all = new TreeSet<>();
    ROLES.get(role).required().values().forEach(p -> all.addAll(p.keySet()));
    ROLES.get(role).optional().values().forEach(p -> all.addAll(p.keySet()));
    return all;
  }
}
