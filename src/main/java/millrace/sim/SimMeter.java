package millrace.sim;

import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import millrace.quantity.Numbers;
import millrace.time.Seeds;

/** An SCPI-1999 meter for current or voltage, with errors of its own. */
final class SimMeter implements Talker {
  private static final double HIGHEST = 1.2;
  private static final double LINE_HZ = 50;

  /** What tells a current meter from a voltmeter. */
  enum Kind {
    CURRENT("CURRent", "CM", List.of(2e-6, 20e-6, 200e-6, 2e-3, 20e-3), 0.01),
    VOLTAGE("VOLTage", "VM", List.of(1.0, 10.0, 100.0), 0);

    private final String header;
    private final String model;
    private final List<Double> ranges;
    private final double burdenV;

    Kind(String header, String model, List<Double> ranges, double burdenV) {
      this.header = header;
      this.model = model;
      this.ranges = ranges;
      this.burdenV = burdenV;
    }

    String header() {
      return header;
    }

    String identity() {
      return model;
    }

    double range(int index) {
      return ranges.get(index);
    }

    int count() {
      return ranges.size();
    }

    /** Every range drops the same voltage at full scale. */
    double burdenOhm(int index) {
      return burdenV / ranges.get(index);
    }
  }

  private final Circuit circuit;
  private final Kind kind;
  private final Scpi scpi;
  private final double[] gain;
  private final double[] offset;
  private final double[] burden;
  private final double noiseOfRange;
  private int range;
  private boolean auto = true;
  private double cycles = 1;
  private boolean autozero = true;
  private double last;

  SimMeter(Circuit circuit, Kind kind, Seeds seeds) {
    this.circuit = circuit;
    this.kind = kind;
    this.range = kind.count() - 1;
    boolean current = kind == Kind.CURRENT;
    BenchSpec spec = circuit.spec();
    noiseOfRange = current ? spec.currentNoiseOfRange() : spec.voltageNoiseOfRange();
    SplittableRandom draw = seeds.stream("meter " + kind.header());
    int n = kind.count();
    gain = new double[n];
    offset = new double[n];
    burden = new double[n];
    for (int i = 0; i < n; i++) {
      gain[i] = Unit.between(draw, current ? spec.currentOfReading() : spec.voltageOfReading());
      offset[i] =
          kind.range(i)
              * Unit.between(draw, current ? spec.currentOfRange() : spec.voltageOfRange());
      burden[i] = kind.burdenOhm(i) * (1 + Unit.between(draw, spec.burden()));
    }
    scpi =
        new Scpi(
            "FENNICK," + kind.identity() + "-1,SIMULATED,Millrace simulated bench", this::reset);
    commands();
    applyBurden();
  }

  private void commands() {
    String head = kind.header() + "[:DC]";
    scpi.on("CONFigure:" + head, this::configure);
    scpi.on("CONFigure?", a -> Optional.of("\"" + kind.header() + "\""));
    scpi.onNumber("[SENSe:]" + head + ":RANGe", this::selectRange);
    scpi.on("[SENSe:]" + head + ":RANGe?", a -> Optional.of(Scpi.number(kind.range(range))));
    scpi.on("[SENSe:]" + head + ":RANGe:AUTO", a -> flag(a, on -> auto = on));
    scpi.on("[SENSe:]" + head + ":RANGe:AUTO?", a -> Optional.of(auto ? "1" : "0"));
    scpi.onNumber("[SENSe:]" + head + ":NPLCycles", this::selectCycles);
    scpi.on("[SENSe:]" + head + ":NPLCycles?", a -> Optional.of(Scpi.number(cycles)));
    scpi.on("[SENSe:]" + head + ":ZERO:AUTO", a -> flag(a, on -> autozero = on));
    scpi.on("[SENSe:]" + head + ":ZERO:AUTO?", a -> Optional.of(autozero ? "1" : "0"));
    scpi.on("READ?", a -> Optional.of(measure()));
    scpi.on("FETCh?", a -> Optional.of(Scpi.number(last)));
    scpi.on("MEASure:" + head + "?", a -> Optional.of(measure()));
    scpi.on("INITiate", a -> Optional.empty());
  }

  private Optional<String> flag(String argument, java.util.function.Consumer<Boolean> set) {
    switch (argument.toUpperCase(java.util.Locale.ROOT)) {
      case "ON", "1" -> set.accept(true);
      case "OFF", "0" -> set.accept(false);
      default -> scpi.error(-104, "Data type error");
    }
    return Optional.empty();
  }

  private Optional<String> configure(String argument) {
    if (!argument.isEmpty()) {
      Numbers.parse(argument.split(",")[0].strip())
          .ifPresentOrElse(this::selectRange, () -> scpi.error(-104, "Data type error"));
    }
    return Optional.empty();
  }

  private void selectRange(double value) {
    for (int i = 0; i < kind.count(); i++) {
      if (Math.abs(value) <= kind.range(i) * (1 + 1e-9)) {
        range = i;
        auto = false;
        applyBurden();
        return;
      }
    }
    scpi.error(-222, "Data out of range");
  }

  private void selectCycles(double value) {
    if (value >= 0.02 && value <= 100) {
      cycles = value;
    } else {
      scpi.error(-222, "Data out of range");
    }
  }

  private void applyBurden() {
    if (kind == Kind.CURRENT) {
      circuit.burden(burden[range]);
    }
  }

  private void reset() {
    range = kind.count() - 1;
    auto = true;
    cycles = 1;
    applyBurden();
  }

  private String measure() {
    circuit.busy(cycles / LINE_HZ * (autozero ? 2 : 1));
    Circuit.Loop loop = circuit.solve();
    double truth = kind == Kind.CURRENT ? loop.meterA() : tapped(loop);
    if (auto) {
      autoRange(truth);
    }
    double full = kind.range(range);
    double noise = noiseOfRange * full / Math.sqrt(cycles) * circuit.gaussian();
    last = truth * (1 + gain[range]) + offset[range] + noise;
    if (Math.abs(last) > full * HIGHEST) {
      last = Math.copySign(9.9e37, last);
    }
    return Scpi.number(last);
  }

  private double tapped(Circuit.Loop loop) {
    return circuit.spec().voltmeterUpstream() ? loop.terminalV() : loop.loadV();
  }

  private void autoRange(double truth) {
    range = 0;
    while (range < kind.count() - 1 && Math.abs(truth) > kind.range(range)) {
      range++;
    }
    applyBurden();
  }

  @Override
  public Optional<String> hear(String line) {
    synchronized (circuit.lock()) {
      return scpi.hear(line);
    }
  }
}
