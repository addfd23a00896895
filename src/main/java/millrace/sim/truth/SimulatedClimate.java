// SPDX-License-Identifier: Apache-2.0
package millrace.sim.truth;

import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.Map;
import millrace.quantity.TimeSpanSeconds;

/**
 * Air of the chamber and temperature of the units in it: a set point that changes at a limited
 * rate, air that follows it with a lag and overshoots, units that follow the air, each with its own
 * lag. The chamber's own thermometer controls it, with its error. Its air is as humid as the room's
 * until dry air or heat removes the moisture. Integrated in steps of one second between queries.
 * Guarded by the circuit's lock.
 */
public final class SimulatedClimate {
  private static final double STEP_S = 1;
  private static final double DOOR_S = 120;
  private static final double DOOR_SHARE = 0.7;
  private static final double FULL_OVERSHOOT_FROM_K = 10;
  private static final double DRYING_S = 600;
  private static final double DRY_DEGC = -60;
  private static final double DRYING_FROM_DEGC = 40;

  private final SimulatedBenchSpec.ChamberSpec spec;
  private final double sensorK;
  private final SimulatedRoom room;
  private final Map<String, Body> bodies = new LinkedHashMap<>();
  private double atS;
  private double programmeDegC;
  private double setpointDegC;
  private double rampKPerS;
  private double airDegC;
  private double dewDegC;
  private double followDegC;
  private double movedFromDegC;
  private boolean moving;
  private double doorShare;
  private final ChamberOvershoot overshoot = new ChamberOvershoot();
  private double addedOvershootK;
  private double addedSensorK;
  private boolean stuck;
  private boolean doorOpen;
  private boolean alarm;

  /** A unit in the chamber. */
  private static final class Body {
    private final double lagS;
    private double degC;

    Body(double lagS, double degC) {
      this.lagS = lagS;
      this.degC = degC;
    }
  }

  /**
   * A chamber at room temperature, with units in it.
   *
   * @param spec the specification of the chamber
   * @param sensorK error of its thermometer, K
   * @param lagS thermal time constant of the unit at each position, s
   */
  public SimulatedClimate(
      SimulatedBenchSpec.ChamberSpec spec, double sensorK, Map<String, Double> lagS) {
    this.spec = spec;
    this.sensorK = sensorK;
    this.room = new SimulatedRoom();
    this.rampKPerS = spec.rampKPerS();
    programmeDegC = setpointDegC = followDegC = airDegC = SimulatedUnitSpec.REFERENCE_DEGC;
    dewDegC = room.dewDegC(0);
    lagS.forEach((name, lag) -> bodies.put(name, new Body(lag, SimulatedUnitSpec.REFERENCE_DEGC)));
  }

  /** The room around it. */
  public SimulatedRoom room() {
    return room;
  }

  /**
   * Advances to a time.
   *
   * @param elapsed on the bench's clock; never earlier than before
   */
  public void advanceTo(Duration elapsed) {
    double untilS = TimeSpanSeconds.seconds(elapsed);
    while (atS < untilS) {
      double h = Math.min(STEP_S, untilS - atS);
      step(h);
      atS += h;
    }
  }

  private static double share(double h, double timeConstantS) {
    return -Math.expm1(-h / timeConstantS);
  }

  private void step(double h) {
    double gap = stuck || alarm ? 0 : setpointDegC - programmeDegC;
    double most = rampKPerS * h;
    boolean moves = Math.abs(gap) > most;
    programmeDegC += moves ? Math.copySign(most, gap) : gap;
    if (moves && !moving) {
      movedFromDegC = programmeDegC;
    } else if (moving && !moves) {
      kick();
    }
    moving = moves;
    double share = share(h, spec.airS());
    overshoot.step(share);
    followDegC += (programmeDegC - sensorK - addedSensorK - followDegC) * share;
    double controlled = followDegC + overshoot.kelvin();
    doorShare += ((doorOpen ? DOOR_SHARE : 0) - doorShare) * share(h, DOOR_S);
    airDegC = controlled + (room.degC(atS) - controlled) * doorShare;
    moisture(h);
    bodies.values().forEach(b -> b.degC += (airDegC - b.degC) * share(h, b.lagS));
  }

  /** At the end of a ramp; short ramps overshoot less. */
  private void kick() {
    double move = setpointDegC - movedFromDegC;
    double highestK = spec.overshootK() + addedOvershootK;
    double size = highestK * Math.min(1, Math.abs(move) / FULL_OVERSHOOT_FROM_K);
    double behindK = Math.abs(programmeDegC - sensorK - addedSensorK - followDegC);
    overshoot.kick(Math.copySign(ChamberOvershoot.strength(size, behindK), move));
  }

  private void moisture(double h) {
    if (doorOpen) {
      dewDegC = room.dewDegC(atS);
    } else if (spec.purged() || airDegC > DRYING_FROM_DEGC) {
      dewDegC += (DRY_DEGC - dewDegC) * share(h, DRYING_S);
    }
  }

  /** Sets the set point, degC. */
  public void setpoint(double degC) {
    setpointDegC = degC;
  }

  /** The set point, degC. */
  public double setpoint() {
    return setpointDegC;
  }

  /** Sets the ramp, K/s, above 0. */
  public void ramp(double kPerS) {
    rampKPerS = Math.min(kPerS, spec.rampKPerS());
  }

  /** Makes the chamber stuck, or releases it. */
  public void stick(boolean stays) {
    stuck = stays;
  }

  /** Makes the air overshoot by so many kelvin more than usual. */
  public void overshoot(double addedK) {
    addedOvershootK = addedK;
  }

  /** Adds an error to its thermometer, K. */
  public void sensor(double addedK) {
    addedSensorK = addedK;
  }

  /** Opens the door, or shuts it. */
  public void door(boolean open) {
    doorOpen = open;
  }

  /** Trips its protection, or resets it. */
  public void alarm(boolean tripped) {
    alarm = tripped;
  }

  /** Whether its protection has tripped. */
  public boolean alarm() {
    return alarm;
  }

  /** Whether the door is open. */
  public boolean doorOpen() {
    return doorOpen;
  }

  double airDegC() {
    return airDegC;
  }

  /** The reading of the chamber's own thermometer, without noise. */
  public double shownDegC() {
    return airDegC + sensorK + addedSensorK;
  }

  /**
   * The true temperature of a unit, degC.
   *
   * @param position its position
   */
  public double unitDegC(String position) {
    return body(position).degC;
  }

  private Body body(String position) {
    Body body = bodies.get(position);
    if (body == null) {
      throw new IllegalStateException("no unit at " + position);
    }
    return body;
  }

  /** Replaces the unit by another one at room temperature. */
  public void replace(String position) {
    body(position).degC = room.degC(atS);
  }

  /** Water condenses on anything colder than the dew point of the air around it. */
  public boolean wet() {
    return airDegC < dewDegC || bodies.values().stream().anyMatch(b -> b.degC < dewDegC);
  }
}
