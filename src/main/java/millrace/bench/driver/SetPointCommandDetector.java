// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Matcher;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.RoleName;
import millrace.bench.role.SetPointGate;

/**
 * Finds set points in outgoing lines, whatever their origin: a role, the safe state, a person who
 * types. It recognizes lines that have the form of the driver's commands to set a supply or a
 * chamber.
 */
final class SetPointCommandDetector {
  private static final Set<RoleName> WATCHED = Set.of(RoleName.SUPPLY, RoleName.CHAMBER);

  private final List<Watch> watches = new ArrayList<>();

  /** One form of line with its set point. */
  private record Watch(RoleName role, String setting, CommandTemplate.Mask mask) {}

  SetPointCommandDetector(DriverFile driver, Map<String, Object> settings) {
    for (RoleName role : WATCHED) {
      RoleCommands commands = driver.roles().get(role);
      if (commands != null) {
        commands.actions().values().forEach(all -> all.forEach(e -> add(role, e, settings)));
      }
    }
  }

  private void add(RoleName role, Exchange exchange, Map<String, Object> settings) {
    if (exchange instanceof Exchange.Send send) {
      add(role, send.text(), settings);
    } else if (exchange instanceof Exchange.Ask ask) {
      add(role, ask.text(), settings);
    }
  }

  private void add(RoleName role, CommandTemplate text, Map<String, Object> settings) {
    for (String setting : RoleGrammar.placeholders(role)) {
      text.mask(setting, settings).ifPresent(mask -> watches.add(new Watch(role, setting, mask)));
    }
  }

  /** The same for exchanges without a number given. */
  void refuseBeyond(List<Exchange> exchanges, Map<String, Object> settings, SetPointGate gate) {
    for (Exchange exchange : exchanges) {
      if (exchange instanceof Exchange.Send send) {
        refuseBeyond(send.text().fill(settings), gate);
      } else if (exchange instanceof Exchange.Ask ask) {
        refuseBeyond(ask.text().fill(settings), gate);
      }
    }
  }

  /** Refuses a line that sets a value beyond the limits, before it is sent. */
  void refuseBeyond(String line, SetPointGate gate) {
    for (Watch watch : watches) {
      Matcher found = watch.mask().pattern().matcher(line);
      if (found.find() && !found.group(1).contains("?")) {
        gate.refuseBeyond(watch.role(), watch.setting(), watch.mask().value(found.group(1)));
      }
    }
  }
}
