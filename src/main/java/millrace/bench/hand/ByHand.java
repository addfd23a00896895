// SPDX-License-Identifier: Apache-2.0
package millrace.bench.hand;

import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver;
import millrace.bench.role.ManualTaskContext;
import millrace.bench.role.Reverser;
import millrace.bench.role.RoleName;
import millrace.bench.role.SafeStateAssurance;
import millrace.bench.role.Sensor;
import millrace.quantity.Dimension;

/**
 * The driver 'by hand': a person turns the decade box, sets the chamber, types what the meter
 * shows. It serves every role. Settings: {@code ranges}, the ranges of a meter divided by commas,
 * as in {@code 1 mA, 10 mA, 10 V}; {@code shorts: yes} for a load that can be shorted; {@code
 * switches: yes} for a range selector that can switch the source.
 */
public final class ByHand implements InstrumentDriver {
  private static final Set<String> SETTINGS = Set.of("ranges", "shorts", "switches");

  /** Needed by the service loader. */
  public ByHand() {}

  @Override
  public String name() {
    return "by hand";
  }

  @Override
  public Instrument open(Connection connection) {
    for (String setting : connection.settings().keySet()) {
      if (!SETTINGS.contains(setting)) {
        throw new IllegalArgumentException(
            "driver 'by hand' knows no setting '%s'; expected one of ranges, shorts, switches"
                .formatted(setting));
      }
    }
    return new HandInstrument(connection);
  }

  /** An instrument without a link. */
  private record HandInstrument(Connection connection, Map<RoleName, Object> workers)
      implements Instrument {
    HandInstrument(Connection connection) {
      this(connection, new ConcurrentHashMap<>());
    }

    @Override
    public String name() {
      return connection.name();
    }

    @Override
    public String identity() {
      return "(by hand)";
    }

    @Override
    public <R> Optional<R> in(RoleName role, Class<R> face) {
      // A setting that a person made is remembered, so that it is not asked for again.
      Object worker = workers.computeIfAbsent(role, this::worker);
      return face.isInstance(worker) ? Optional.of(face.cast(worker)) : Optional.empty();
    }

    private Object worker(RoleName role) {
      ByHandDialogue byHandDialogue =
          new ByHandDialogue(place(), role.text() + " '" + name() + "'");
      safeTask(role, byHandDialogue.who()).ifPresent(task -> place().toBeSafe(name(), task));
      return switch (role) {
        case CURRENT_METER ->
            new HandRoles.HandMeter(
                byHandDialogue, Dimension.CURRENT, ranges(Dimension.CURRENT), true);
        case VOLTMETER, SHUNT_VOLTMETER ->
            new HandRoles.HandMeter(
                byHandDialogue, Dimension.VOLTAGE, ranges(Dimension.VOLTAGE), false);
        case LOAD -> new HandRoles.HandLoad(byHandDialogue, says("shorts"));
        case CHAMBER -> new HandRoles.HandChamber(byHandDialogue);
        case UNIT_THERMOMETER, LAB_THERMOMETER, SHUNT_THERMOMETER ->
            (Sensor) () -> byHandDialogue.number(Dimension.TEMPERATURE, HandRoles.EARTHLY_DEGC);
        case HYGROMETER ->
            (Sensor) () -> byHandDialogue.number(Dimension.HUMIDITY, HandRoles.HUMID);
        case RANGE_SELECTOR ->
            new HandRoles.HandSelector(byHandDialogue, connection.words(), says("switches"));
        case SUPPLY -> new HandRoles.HandSupply(byHandDialogue);
        case SWITCH -> new HandRoles.HandSwitch(byHandDialogue, connection.words());
        case REVERSER ->
            (Reverser)
                reversed ->
                    byHandDialogue.loop(
                        reversed
                            ? "Exchange the two leads of the unit at the meters"
                            : "Put the two leads of the unit at the meters the usual way round");
      };
    }

    private ManualTaskContext place() {
      return connection.surroundings().workplace();
    }

    /** The task that makes it safe; none for an instrument that only shows something. */
    private static Optional<String> safeTask(RoleName role, String who) {
      return switch (role) {
        case LOAD, RANGE_SELECTOR, SWITCH, REVERSER, CURRENT_METER ->
            Optional.of(ManualTaskContext.sourceOff());
        case SUPPLY ->
            Optional.of("Switch the output of %s off, or pull its mains plug".formatted(who));
        case CHAMBER ->
            Optional.of(
                "Switch %s off, and leave its door shut until it is near room temperature: surfaces in it can burn, or freeze to skin"
                    .formatted(who));
        case VOLTMETER,
            SHUNT_VOLTMETER,
            UNIT_THERMOMETER,
            LAB_THERMOMETER,
            SHUNT_THERMOMETER,
            HYGROMETER ->
            Optional.empty();
      };
    }

    private boolean says(String setting) {
      return "yes".equals(connection.settings().get(setting));
    }

    private HandRoles.Ranges ranges(Dimension kind) {
      return HandRoles.ranges(connection.settings().getOrDefault("ranges", ""), kind);
    }

    @Override
    public boolean isByHand() {
      return true;
    }

    @Override
    public List<String> errors() {
      return List.of();
    }

    @Override
    public SafeStateAssurance makeSafe(Duration within) {
      place().safe(name());
      return SafeStateAssurance.READ_BACK;
    }

    @Override
    public void close() {
      // Nothing to release: there is no link.
    }
  }
}
