// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.ArrayList;
import java.util.List;
import millrace.sim.truth.SimulatedBenchSpec;
import millrace.sim.truth.SimulatedUnit;

/** Detects events that must never happen on a bench. Guarded by the circuit's lock. */
final class MistreatmentWatch {
  private static final double OVER_RANGE = 1.25;
  private static final double OVER_SUPPLY = 1.5;

  private final double mostA;
  private final double mostV;
  private final List<String> mistreatments = new ArrayList<>();
  private boolean muted;
  private boolean over;
  private boolean overfed;
  private boolean wet;

  MistreatmentWatch(SimulatedBenchSpec spec) {
    mostA = OVER_RANGE * top(spec.ammeter());
    mostV = OVER_RANGE * top(spec.voltmeter());
  }

  private static double top(SimulatedBenchSpec.MeterSpec meter) {
    return meter.fullScales().get(meter.fullScales().size() - 1);
  }

  void happened(String mistreatment) {
    if (!muted) {
      mistreatments.add(mistreatment);
    }
  }

  /** Effects of a power cut do not count. */
  void muted(Runnable work) {
    muted = true;
    try {
      work.run();
    } finally {
      muted = false;
    }
  }

  List<String> mistreatments() {
    return List.copyOf(mistreatments);
  }

  /** Notes the beginning of a forbidden state. */
  private boolean began(boolean was, boolean is, String mistreatment) {
    if (is && !was) {
      happened(mistreatment);
    }
    return is;
  }

  void loop(SimLoopState loop) {
    boolean much = Math.abs(loop.meterA()) > mostA || Math.abs(loop.terminalV()) > mostV;
    over = began(over, much, "meter input beyond its rating");
  }

  void supply(SimulatedUnit unit, double supplyV) {
    double most =
        unit.spec().ranges().stream().mapToDouble(r -> r.supply().volts()).max().orElseThrow();
    overfed = began(overfed, supplyV > OVER_SUPPLY * most, "supply beyond what the unit bears");
  }

  void dew(boolean isWet, boolean doorOpen) {
    String where = doorOpen ? "with the door open" : "with moist warm air in it";
    wet = began(wet, isWet, "chamber below the dew point " + where);
  }
}
