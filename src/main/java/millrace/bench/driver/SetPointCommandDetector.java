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
 * Finds the set points in lines as they go out, whoever made them: a role, the safe state, a person
 * who types. A line counts where it has the form in which the driver sets a supply or a chamber.
 */
final class SetPointCommandDetector {
  private static final Set<RoleName> WATCHED = Set.of(RoleName.SUPPLY, RoleName.CHAMBER);

  private final List<Watch> watches = new ArrayList<>();

  /** One form of line, and what stands in it. */
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

  /** The same for what is to be said without any number given. */
  void refuseBeyond(List<Exchange> exchanges, Map<String, Object> settings, SetPointGate gate) {
    for (Exchange exchange : exchanges) {
      if (exchange instanceof Exchange.Send send) {
        refuseBeyond(send.text().fill(settings), gate);
      } else if (exchange instanceof Exchange.Ask ask) {
        refuseBeyond(ask.text().fill(settings), gate);
      }
    }
  }

  /** Refuses a line that sets what is not allowed, before it is sent. */
  void refuseBeyond(String line, SetPointGate gate) {
    for (Watch watch : watches) {
      Matcher found = watch.mask().pattern().matcher(line);
      if (found.find() && !found.group(1).contains("?")) {
        gate.refuseBeyond(watch.role(), watch.setting(), watch.mask().value(found.group(1)));
      }
    }
  }
}
