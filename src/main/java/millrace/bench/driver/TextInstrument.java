// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.ReplyTimes;
import millrace.bench.role.RoleName;
import millrace.bench.role.SafeStateAssurance;

/**
 * An instrument that speaks the text protocol of a driver file. Roles may be used by several
 * threads; the link keeps their conversations apart.
 */
final class TextInstrument implements Instrument {
  private final DriverFile driver;
  private final Connection connection;
  private final DriverConversation driverConversation;
  private final RoleTalk talk;

  TextInstrument(DriverFile driver, Connection connection) {
    this.driver = driver;
    this.connection = connection;
    this.driverConversation = new DriverConversation(driver, connection);
    this.talk = new RoleTalk(driver, connection, driverConversation);
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
    return driverConversation.exclusively(
        () -> {
          if (driverConversation.met()) {
            talk.ready();
          }
          return driverConversation.askIdentity();
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
    return driverConversation.exclusively(
        () -> {
          talk.ready();
          List<String> all = new ArrayList<>(talk.staleComplaints());
          all.addAll(talk.complaints());
          return all;
        });
  }

  @Override
  public List<String> notes() {
    return driverConversation.exclusively(
        () ->
            talk.staleComplaints().stream()
                .map(c -> "'%s' had a complaint when it was opened: %s".formatted(name(), c))
                .toList());
  }

  @Override
  public int epoch() {
    return driverConversation.link().epoch();
  }

  @Override
  public Optional<ReplyTimes> replyTimes() {
    return driverConversation.replyTimes();
  }

  @Override
  public void renew() {
    if (epoch() > 0) {
      driverConversation.exclusively(
          () -> {
            talk.ready();
            return Boolean.TRUE;
          });
    }
  }

  @Override
  public void check() {
    driverConversation.exclusively(
        () -> {
          driverConversation.link().checkInStep();
          talk.refuseRestart();
          return Boolean.TRUE;
        });
  }

  @Override
  public Optional<String> changed() {
    if (epoch() == 0) {
      return Optional.empty();
    }
    return driverConversation.exclusively(
        () -> {
          talk.ready();
          return talk.changed();
        });
  }

  @Override
  public SafeStateAssurance makeSafe(Duration within) {
    return new InstrumentSafeState(driver, connection)
        .reach(within, driverConversation.identity(), driverConversation.epoch());
  }

  @Override
  public void close() {
    driverConversation.link().close();
  }
}
