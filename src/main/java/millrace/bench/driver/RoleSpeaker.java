// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;

/** Carries out actions and queries of one role by name. */
record RoleSpeaker(
    RoleName role,
    RoleTalk talk,
    RoleCommands commands,
    Map<String, NumericQuery.Filled> questions) {
  void say(String action, Map<String, ?> values) {
    talk.perform(role, action, exchanges(action), values);
  }

  /**
   * The same, and questions in one line with what ends the action.
   *
   * @return their replies; empty if they have to be asked by themselves
   */
  Optional<List<String>> sayAndAsk(String action, Map<String, ?> values, List<String> further) {
    return talk.perform(role, action, exchanges(action), values, further);
  }

  private List<Exchange> exchanges(String action) {
    List<Exchange> exchanges = commands.actions().get(action);
    if (exchanges == null) {
      throw talk.refusal(role, "the driver cannot " + action, "a driver that can");
    }
    return exchanges;
  }

  boolean can(String action) {
    return commands.actions().containsKey(action);
  }

  Reply read() {
    return read("read");
  }

  Reply read(String number) {
    return talk.number(role, question(number));
  }

  /** A reading after which none of this instrument follows at a point. */
  Reply last() {
    return talk.last(role, question("read"));
  }

  Reply glance(String number) {
    return talk.glance(role, question(number));
  }

  NumericQuery.Filled question(String number) {
    NumericQuery.Filled question = questions.get(number);
    if (question == null) {
      throw talk.refusal(role, "the driver cannot " + number, "a driver that can");
    }
    return question;
  }

  boolean knows(String number) {
    return questions.containsKey(number);
  }
}
