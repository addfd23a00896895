// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import millrace.quantity.NumberText;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.truth.SimulatedClimate;
import millrace.time.TimeSource;
import millrace.time.VirtualClock;

/** Decides for each line whether a fault affects it. Thread-safe. */
final class FaultInjector {
  private final TimeSource time;
  private final List<Pending> pending = new ArrayList<>();
  private final Map<String, Integer> questions = new HashMap<>();
  private final List<StruckSimFault> struck = new ArrayList<>();

  /** A fault that has replies left to affect. */
  private static final class Pending {
    private final SimFault fault;
    private int left;

    Pending(SimFault fault) {
      this.fault = fault;
      this.left = fault.times();
    }
  }

  FaultInjector(FaultPlan plan, SimulatedLoop circuit, PlainTextSimInstruments.Sensor thermometer) {
    this.time = circuit.time();
    for (SimFault fault : plan.faults()) {
      if (isOver(fault)) {
        continue;
      }
      if (fault.kind().befallsBench()) {
        befall(fault, circuit, thermometer);
      } else {
        pending.add(new Pending(fault));
      }
    }
  }

  /** Used when a bench is rebuilt in the middle of a night: earlier faults do not occur again. */
  private boolean isOver(SimFault fault) {
    boolean once = !fault.kind().befallsBench() || fault.kind() == SimFault.Kind.CLOCK_JUMP;
    return once
        && fault.when() instanceof SimFault.AtTime at
        && at.elapsed().compareTo(time.elapsed()) < 0;
  }

  private void befall(
      SimFault fault, SimulatedLoop circuit, PlainTextSimInstruments.Sensor thermometer) {
    Duration from = ((SimFault.AtTime) fault.when()).elapsed();
    circuit.at(
        from,
        climate -> {
          note(fault);
          begin(fault, circuit, thermometer).accept(climate);
        });
    if (!fault.lasting().isZero()) {
      circuit.at(
          from.plus(fault.lasting()),
          climate -> {
            circuit.wrong(fault.kind(), false);
            end(fault, climate, circuit, thermometer);
          });
    }
  }

  private static Consumer<SimulatedClimate> begin(
      SimFault fault, SimulatedLoop circuit, PlainTextSimInstruments.Sensor thermometer) {
    return switch (fault.kind()) {
      case CHAMBER_STUCK -> climate -> climate.stick(true);
      case CHAMBER_OVERSHOOTS -> climate -> climate.overshoot(fault.size());
      case CHAMBER_ALARM -> climate -> climate.alarm(true);
      case DOOR_OPEN -> climate -> climate.door(true);
      case SENSOR_OFFSET -> climate -> offset(fault, climate, thermometer, fault.size());
      case UNIT_DIES -> climate -> circuit.die();
      case SLOW_SOURCE -> climate -> circuit.slow(fault.size());
      case RELAY_STUCK -> climate -> circuit.stick(fault.size());
      case LEADS_REVERSED,
          LEAD_OPEN,
          FUSE_BLOWN,
          METER_ACROSS_OUTPUT,
          SLOTS_SWAPPED,
          THERMOMETER_ASIDE ->
          climate -> circuit.wrong(fault.kind(), true);
      case CLOCK_JUMP -> climate -> jump(circuit.time(), fault.size());
      default -> throw new IllegalStateException(fault.kind() + " does not befall the bench");
    };
  }

  /** A dead unit stays dead, and a clock that jumped is not corrected. */
  private static void end(
      SimFault fault,
      SimulatedClimate climate,
      SimulatedLoop circuit,
      PlainTextSimInstruments.Sensor thermometer) {
    switch (fault.kind()) {
      case CHAMBER_STUCK -> climate.stick(false);
      case CHAMBER_OVERSHOOTS -> climate.overshoot(0);
      case CHAMBER_ALARM -> climate.alarm(false);
      case DOOR_OPEN -> climate.door(false);
      case SLOW_SOURCE -> circuit.slow(0);
      case SENSOR_OFFSET -> offset(fault, climate, thermometer, 0);
      case RELAY_STUCK -> circuit.stick(0);
      default -> {}
    }
  }

  private static void offset(
      SimFault fault,
      SimulatedClimate climate,
      PlainTextSimInstruments.Sensor thermometer,
      double kelvin) {
    if (fault.instrument().equals("chamber")) {
      climate.sensor(kelvin);
    } else {
      thermometer.add(kelvin);
    }
  }

  private static void jump(TimeSource time, double seconds) {
    if (time instanceof VirtualClock clock) {
      clock.jump(Duration.ofMillis(Math.round(seconds * 1000)));
    }
  }

  /** Adds a fault that affects replies. */
  synchronized void add(SimFault fault) {
    if (fault.kind().befallsBench()) {
      throw new IllegalArgumentException(
          "'%s' befalls the bench; expected what spoils replies".formatted(fault.kind().text()));
    }
    pending.add(new Pending(fault));
  }

  /** The fault that affects the reply to this line, if any. */
  synchronized Optional<SimFault> strikes(String instrument, String line, Optional<String> reply) {
    int number = questions.merge(instrument, 1, Integer::sum);
    for (Iterator<Pending> all = pending.iterator(); all.hasNext(); ) {
      Pending next = all.next();
      SimFault fault = next.fault;
      if (fault.instrument().equals(instrument) && due(fault, number) && fits(fault, line, reply)) {
        next.left--;
        if (next.left == 0) {
          all.remove();
        }
        note(fault);
        return Optional.of(fault);
      }
    }
    return Optional.empty();
  }

  private boolean due(SimFault fault, int number) {
    if (fault.when() instanceof SimFault.AtQuestion question) {
      return number >= question.number();
    }
    return time.elapsed().compareTo(((SimFault.AtTime) fault.when()).elapsed()) >= 0;
  }

  /** Some faults wait for a line to which they apply. */
  private static boolean fits(SimFault fault, String line, Optional<String> reply) {
    return switch (fault.kind()) {
      case OVERLOAD, NOT_A_NUMBER, DECIMAL_COMMA, WILD_READING ->
          isReading(line) && reply.filter(r -> number(r).isPresent()).isPresent();
      case WRONG_IDENTITY -> line.strip().equals("*IDN?") || line.strip().equals("ID?");
      case REFUSED, RESET, REBOOT, HALF_OPEN, ERROR_QUEUE -> true;
      default -> reply.isPresent();
    };
  }

  private static boolean isReading(String line) {
    String word = line.strip();
    return word.startsWith("READ?") || word.startsWith("MEAS") || word.startsWith("TEMP?");
  }

  /** The number at the beginning of a reply. */
  static OptionalDouble number(String reply) {
    return NumberText.parse(reply.split("[ ;]")[0]);
  }

  synchronized void note(SimFault fault) {
    struck.add(new StruckSimFault(fault, time.elapsed()));
  }

  synchronized List<StruckSimFault> struck() {
    return List.copyOf(struck);
  }
}
