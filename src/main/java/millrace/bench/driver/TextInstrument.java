// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Assurance;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.RoleName;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.quantity.Numbers;

/**
 * An instrument that speaks the text protocol of a driver file. Roles may be used by several
 * threads; the link keeps their conversations apart.
 */
final class TextInstrument implements Instrument {
  private final DriverFile driver;
  private final Connection connection;
  private final Voice voice;
  private final RoleTalk talk;

  TextInstrument(DriverFile driver, Connection connection) {
    this.driver = driver;
    this.connection = connection;
    this.voice = new Voice(driver, connection);
    this.talk = new RoleTalk(driver, connection, voice);
  }

  @Override
  public String name() {
    return connection.name();
  }

  @Override
  public String identity() {
    if (driver.identity().isEmpty()) {
      return "(driver '" + driver.name() + "', the instrument cannot say who it is)";
    }
    return voice.exclusively(
        () -> {
          if (voice.met()) {
            talk.ready();
          }
          return voice.askIdentity();
        });
  }

  @Override
  public <R> Optional<R> in(RoleName role, Class<R> face) {
    RoleCommands commands = driver.roles().get(role);
    if (commands == null) {
      return Optional.empty();
    }
    Object worker = TextRoles.of(role, talk, commands);
    return face.isInstance(worker) ? Optional.of(face.cast(worker)) : Optional.empty();
  }

  @Override
  public List<String> errors() {
    return voice.exclusively(
        () -> {
          talk.ready();
          List<String> all = new ArrayList<>(talk.staleComplaints());
          all.addAll(talk.complaints());
          return all;
        });
  }

  @Override
  public List<String> notes() {
    return voice.exclusively(
        () ->
            talk.staleComplaints().stream()
                .map(c -> "'%s' had a complaint when it was opened: %s".formatted(name(), c))
                .toList());
  }

  @Override
  public int epoch() {
    return voice.link().epoch();
  }

  @Override
  public void renew() {
    if (epoch() > 0) {
      voice.exclusively(
          () -> {
            talk.ready();
            return Boolean.TRUE;
          });
    }
  }

  @Override
  public void check() {
    voice.exclusively(
        () -> {
          voice.link().checkInStep();
          driver.restart().ifPresent(this::refuseRestart);
          return Boolean.TRUE;
        });
  }

  private void refuseRestart(DriverFile.Restart restart) {
    String question = restart.ask().fill(voice.with(Map.of()));
    String reply = voice.ask(question, voice.usual());
    OptionalDouble events = Numbers.parse(reply.strip());
    if (events.isEmpty()) {
      throw talk.wrong(question, reply, "a whole number");
    }
    if (((long) events.getAsDouble() >> restart.bit() & 1) == 1) {
      voice.link().resynchronize();
      throw new InstrumentException(
          voice
              .trouble(Kind.BROKEN, "the instrument was switched off and on")
              .with("", "Everything has to be set again; check its mains cable.")
              .with(new Asked(question, reply, Duration.ZERO)));
    }
  }

  @Override
  public Optional<String> changed() {
    if (epoch() == 0) {
      return Optional.empty();
    }
    return voice.exclusively(
        () -> {
          talk.ready();
          return talk.changed();
        });
  }

  @Override
  public Assurance makeSafe(Duration within) {
    return new SafeState(driver, connection).reach(within, voice.identity(), voice.epoch());
  }

  @Override
  public void close() {
    voice.link().close();
  }
}
