package millrace.sim;

import java.time.Duration;

/**
 * Air of the chamber and temperature of the units in it: a programme that is limited in its rate,
 * air that follows it with a lag and overshoots, units that follow the air. Steps of one second
 * between questions. Guarded by the bench's lock.
 */
final class Climate {
  private static final double STEP_S = 1;

  private final BenchSpec spec;
  private final double unitLagS;
  private double atS;
  private double programmeDegC;
  private double setpointDegC;
  private double rampKPerS;
  private double airDegC;
  private double unitDegC;
  private double overshootK;
  private boolean stuck;

  Climate(BenchSpec spec, double unitLagS, double startDegC) {
    this.spec = spec;
    this.unitLagS = unitLagS;
    this.rampKPerS = spec.chamberRampKPerS();
    programmeDegC = setpointDegC = airDegC = unitDegC = startDegC;
  }

  void advanceTo(Duration elapsed) {
    double untilS = elapsed.toNanos() / 1e9;
    while (atS < untilS) {
      double h = Math.min(STEP_S, untilS - atS);
      step(h);
      atS += h;
    }
  }

  private void step(double h) {
    double goal = stuck ? programmeDegC : setpointDegC;
    double gap = goal - programmeDegC;
    double most = rampKPerS * h;
    boolean moving = Math.abs(gap) > most;
    programmeDegC += moving ? Math.copySign(most, gap) : gap;
    double overshootGoal = moving ? Math.copySign(spec.overshootK(), gap) : 0;
    overshootK += (overshootGoal - overshootK) * -Math.expm1(-h / spec.chamberAirS());
    double airGoal = programmeDegC + overshootK;
    airDegC += (airGoal - airDegC) * -Math.expm1(-h / spec.chamberAirS());
    unitDegC += (airDegC - unitDegC) * -Math.expm1(-h / unitLagS);
  }

  void setpoint(double degC) {
    setpointDegC = degC;
  }

  double setpoint() {
    return setpointDegC;
  }

  void ramp(double kPerS) {
    rampKPerS = Math.min(kPerS, spec.chamberRampKPerS());
  }

  void stick(boolean stays) {
    stuck = stays;
  }

  double airDegC() {
    return airDegC;
  }

  double unitDegC() {
    return unitDegC;
  }
}
