// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import java.util.Optional;
import millrace.sim.truth.BenchTruth;
import millrace.sim.truth.SimulatedBenchSpec;

/** An SCPI-1999 meter for current or voltage, at the load or at a shunt, with errors of its own. */
final class SimMeter implements SimLineResponder {
  private static final double HIGHEST = 1.2;
  private static final double OVERLOAD = 9.9e37;
  private static final double LINE_HZ = 50;
  private static final double SLACK = 1e-9;

  /** The differences between a current meter and a voltmeter. */
  enum Kind {
    CURRENT("ammeter", "CURRent", "CM"),
    VOLTAGE("voltmeter", "VOLTage", "VM"),
    SHUNT("ammeter", "VOLTage", "VM");

    private final String instrument;
    private final String header;
    private final String model;

    Kind(String instrument, String header, String model) {
      this.instrument = instrument;
      this.header = header;
      this.model = model;
    }
  }

  private final SimulatedLoop circuit;
  private final Kind kind;
  private final ScpiInterpreter scpi;
  private final SimulatedBenchSpec.MeterSpec spec;
  private final BenchTruth.MeterTruth truth;
  private int range;
  private boolean auto;
  private double cycles;
  private boolean autozero;
  private double last;

  SimMeter(SimulatedLoop circuit, Kind kind) {
    this.circuit = circuit;
    this.kind = kind;
    boolean aside = kind == Kind.VOLTAGE;
    spec = aside ? circuit.spec().voltmeter() : circuit.spec().ammeter();
    truth = aside ? circuit.truth().voltmeter() : circuit.truth().ammeter();
    scpi = new ScpiInterpreter(identity(kind.model), this::reset);
    commands("[SENSe:]" + kind.header + "[:DC]");
    reset();
  }

  /** The replies of the SCPI instruments of this bench to the identity query. */
  static String identity(String model) {
    return "FENNICK," + model + "-1,SIMULATED,Millrace simulated bench";
  }

  private void commands(String head) {
    scpi.on("CONFigure:" + kind.header + "[:DC]", this::configure);
    scpi.asks("CONFigure?", () -> "\"" + kind.header + "\"");
    scpi.takes(head + ":RANGe", 0, full(count() - 1), this::selectRange);
    scpi.asks(head + ":RANGe?", () -> ScpiInterpreter.number(full(range)));
    scpi.takesFlag(head + ":RANGe:AUTO", on -> auto = on);
    scpi.asks(head + ":RANGe:AUTO?", () -> auto ? "1" : "0");
    scpi.takes(head + ":NPLCycles", 0.02, 100, n -> cycles = n);
    scpi.asks(head + ":NPLCycles?", () -> ScpiInterpreter.number(cycles));
    scpi.takesFlag(head + ":ZERO:AUTO", on -> autozero = on);
    scpi.asks(head + ":ZERO:AUTO?", () -> autozero ? "1" : "0");
    if (kind != Kind.CURRENT) {
      scpi.asks("INPut:IMPedance?", () -> ScpiInterpreter.number(spec.resistanceOhm().get(range)));
    }
    scpi.asks("READ?", this::measure);
    scpi.asks("FETCh?", () -> ScpiInterpreter.number(last));
    scpi.asks("MEASure:" + kind.header + "[:DC]?", this::measure);
    scpi.does("INITiate", this::measure);
  }

  private int count() {
    return spec.fullScales().size();
  }

  private double full(int index) {
    return spec.fullScales().get(index);
  }

  private Optional<String> configure(String argument) {
    if (argument.isEmpty()) {
      auto = true;
      return Optional.empty();
    }
    String first = argument.split(",")[0].strip();
    return scpi.hear(":" + kind.header + ":RANG " + first);
  }

  private void selectRange(double value) {
    for (int i = count() - 1; i >= 0; i--) {
      if (value <= full(i) * (1 + SLACK)) {
        range = i;
      }
    }
    auto = false;
    connect();
  }

  private void connect() {
    double ohm = truth.ranges().get(range).resistanceOhm();
    switch (kind) {
      case CURRENT -> circuit.burden(ohm);
      case VOLTAGE -> circuit.input(ohm);
      case SHUNT -> circuit.burden(shuntOhm(0));
    }
  }

  /** The true shunt, in parallel with the input of the voltmeter. */
  private double shuntOhm(double currentA) {
    SimulatedBenchSpec.ShuntSpec shunt = circuit.spec().shunt().orElseThrow();
    double degC = circuit.climate().room().degC(circuit.nowS());
    double ohm = shunt.atOhm(degC, currentA * currentA * shunt.ohm());
    double real = ohm * (1 + circuit.truth().shunt());
    double input = truth.ranges().get(range).resistanceOhm();
    return real * input / (real + input);
  }

  private void reset() {
    range = count() - 1;
    auto = true;
    cycles = 1;
    autozero = true;
    last = OVERLOAD;
    connect();
  }

  private String measure() {
    double seconds = cycles / LINE_HZ;
    circuit.busy(seconds * (autozero ? 2 : 1));
    double value = seen(circuit.solve(seconds));
    if (auto) {
      autoRange(value);
    }
    double full = full(range);
    double noise = spec.noiseOfRange() * full / Math.sqrt(cycles) * circuit.gaussian();
    double step = spec.resolution() * full;
    double indicated = truth.shown(range, value, circuit.time().elapsed()) + noise;
    double shown = step * Math.rint(indicated / step);
    last = Math.abs(shown) > full * HIGHEST ? Math.copySign(OVERLOAD, shown) : shown;
    String reply = ScpiInterpreter.number(last);
    circuit.give(kind.instrument, reply);
    return reply;
  }

  private double seen(SimLoopState loop) {
    circuit.watch().loop(loop);
    return switch (kind) {
      case CURRENT -> loop.meterA();
      case VOLTAGE -> loop.seenV();
      case SHUNT -> loop.meterA() * shuntOhm(loop.meterA());
    };
  }

  private void autoRange(double value) {
    range = 0;
    while (range < count() - 1 && Math.abs(value) > full(range)) {
      range++;
    }
    connect();
  }

  @Override
  public Optional<String> hear(String line) {
    return scpi.hear(line);
  }

  @Override
  public void powerOn() {
    reset();
    scpi.powerOn();
  }

  @Override
  public void complain() {
    scpi.fillQueue();
  }
}
