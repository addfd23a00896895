// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import millrace.bench.BenchFile.Entry;
import millrace.bench.role.Chamber;
import millrace.bench.role.Instrument;
import millrace.bench.role.Reply;
import millrace.bench.role.ReplyTimes;
import millrace.bench.role.RoleName;
import millrace.bench.role.SafeStateAssurance;
import millrace.bench.role.Supply;

/**
 * Wraps an instrument so that no set point beyond the limits of the bench file reaches it, whatever
 * its driver is: every set point of a supply or a chamber passes here.
 */
final class GuardedInstrument implements Instrument {
  private final Instrument inner;
  private final Entry entry;
  private final InstrumentLimitGate gate;

  GuardedInstrument(Instrument inner, Entry entry) {
    this.inner = inner;
    this.entry = entry;
    this.gate = new InstrumentLimitGate(entry);
  }

  @Override
  public <R> Optional<R> in(RoleName role, Class<R> face) {
    return inner
        .in(role, Object.class)
        .map(worker -> held(role, worker))
        .filter(face::isInstance)
        .map(face::cast);
  }

  private Object held(RoleName role, Object worker) {
    InstrumentLimits allowed =
        Optional.ofNullable(entry.roles().get(role))
            .map(RoleFacts::allowed)
            .orElse(InstrumentLimits.NONE);
    if (role == RoleName.SUPPLY && worker instanceof Supply supply) {
      return new HeldSupply(supply, gate, allowed);
    } else if (role == RoleName.CHAMBER && worker instanceof Chamber chamber) {
      return new HeldChamber(chamber, gate, allowed);
    }
    return worker;
  }

  private record HeldSupply(Supply inner, InstrumentLimitGate gate, InstrumentLimits allowed)
      implements Supply {
    /** Its current limit is set before any voltage. */
    @Override
    public void set(double voltageV) {
      gate.refuseBeyond(RoleName.SUPPLY, "voltage", voltageV);
      allowed.mostA().ifPresent(inner::limit);
      inner.set(voltageV);
    }

    @Override
    public void limit(double currentA) {
      gate.refuseBeyond(RoleName.SUPPLY, "current", currentA);
      inner.limit(currentA);
    }

    @Override
    public void output(boolean on) {
      inner.output(on);
    }

    @Override
    public Reply readCurrent() {
      return inner.readCurrent();
    }

    @Override
    public Reply read() {
      return inner.read();
    }

    @Override
    public Reply readLast() {
      return inner.readLast();
    }

    @Override
    public Reply glance() {
      return inner.glance();
    }
  }

  private record HeldChamber(Chamber inner, InstrumentLimitGate gate, InstrumentLimits allowed)
      implements Chamber {
    /** A ramp above the limit is reduced to the limit, since a slower ramp does no harm. */
    @Override
    public void setpoint(double temperatureDegC, double rampKPerS) {
      gate.refuseBeyond(RoleName.CHAMBER, "temperature", temperatureDegC);
      inner.setpoint(temperatureDegC, Math.min(rampKPerS, allowed.mostKPerS().orElse(rampKPerS)));
    }

    @Override
    public boolean canRamp() {
      return inner.canRamp();
    }

    @Override
    public Optional<BooleanSupplier> door() {
      return inner.door();
    }

    @Override
    public Optional<Supplier<Optional<String>>> alarm() {
      return inner.alarm();
    }

    @Override
    public Reply read() {
      return inner.read();
    }

    @Override
    public Reply readLast() {
      return inner.readLast();
    }

    @Override
    public Reply glance() {
      return inner.glance();
    }
  }

  @Override
  public String name() {
    return inner.name();
  }

  @Override
  public String identity() {
    return inner.identity();
  }

  @Override
  public List<String> errors() {
    return inner.errors();
  }

  @Override
  public List<String> notes() {
    return inner.notes();
  }

  @Override
  public int epoch() {
    return inner.epoch();
  }

  @Override
  public Optional<ReplyTimes> replyTimes() {
    return inner.replyTimes();
  }

  @Override
  public void renew() {
    inner.renew();
  }

  @Override
  public boolean isByHand() {
    return inner.isByHand();
  }

  @Override
  public void check() {
    inner.check();
  }

  @Override
  public Optional<String> changed() {
    return inner.changed();
  }

  @Override
  public SafeStateAssurance makeSafe(Duration within) {
    return inner.makeSafe(within);
  }

  @Override
  public void close() {
    inner.close();
  }
}
