// SPDX-License-Identifier: Apache-2.0
package example;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.SafeStateAssurance;
import millrace.bench.role.Sensor;
import millrace.link.Link;
import millrace.quantity.NumberText;

/**
 * A driver for what a driver file cannot say: this thermometer gives counts of its converter, and
 * the polynomial that turns them into degrees must be asked for once.
 *
 * <p>Asked {@code COEF?} it answers {@code c0;c1;c2}, asked {@code RAW?} it answers a count x; the
 * temperature in degC is c0 + c1 x + c2 x^2.
 */
public final class PolynomialThermometer implements InstrumentDriver {
  /** Needed by the service loader. */
  public PolynomialThermometer() {}

  @Override
  public String name() {
    return "polynomial thermometer";
  }

  @Override
  public Instrument open(Connection connection) {
    return new Thermometer(connection.name(), connection.link());
  }

  private static final class Thermometer implements Instrument, Sensor {
    private final String name;
    private final Link link;
    private double[] polynomial = {};
    private int askedAt;

    Thermometer(String name, Link link) {
      this.name = name;
      this.link = link;
    }

    @Override
    public String name() {
      return name;
    }

    @Override
    public String identity() {
      return link.ask("ID?");
    }

    @Override
    public <R> Optional<R> in(RoleName role, Class<R> face) {
      boolean can = role == RoleName.UNIT_THERMOMETER || role == RoleName.LAB_THERMOMETER;
      return can && face.isInstance(this) ? Optional.of(face.cast(this)) : Optional.empty();
    }

    @Override
    public Reply read() {
      return link.exclusively(
          () -> {
            if (link.connect() != askedAt) {
              polynomial = coefficients(link.ask("COEF?"));
              askedAt = link.epoch();
            }
            String raw = link.ask("RAW?");
            OptionalDouble count = NumberText.parse(raw);
            if (count.isEmpty() || polynomial.length == 0) {
              return new Reply.Malformed(raw);
            }
            return new Reply.Number(degrees(count.getAsDouble()), raw);
          });
    }

    private static double[] coefficients(String reply) {
      String[] parts = reply.split(";");
      double[] found = new double[parts.length];
      for (int i = 0; i < parts.length; i++) {
        OptionalDouble value = NumberText.parse(parts[i]);
        if (value.isEmpty()) {
          return new double[0];
        }
        found[i] = value.getAsDouble();
      }
      return found;
    }

    private double degrees(double count) {
      double sum = 0;
      for (int i = polynomial.length - 1; i >= 0; i--) {
        sum = sum * count + polynomial[i];
      }
      return sum;
    }

    @Override
    public List<String> errors() {
      return List.of();
    }

    @Override
    public int epoch() {
      return link.epoch();
    }

    @Override
    public void check() {
      link.checkInStep();
    }

    @Override
    public SafeStateAssurance makeSafe(Duration within) {
      return SafeStateAssurance.NOTHING_TO_DO; // a thermometer drives nothing
    }

    @Override
    public void close() {
      link.close();
    }
  }
}
