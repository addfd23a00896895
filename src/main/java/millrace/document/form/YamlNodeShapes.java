// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.ArrayList;
import java.util.List;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;

/** The shape of a node (a word, a list or entries), and the message for a wrong one. */
final class YamlNodeShapes {
  private YamlNodeShapes() {}

  static List<String> keys(Node.Entries entries) {
    List<String> keys = new ArrayList<>();
    entries.entries().forEach(e -> keys.add(e.key()));
    return keys;
  }

  static void wrong(Node node, String expected, InputFaultList faults) {
    faults.add(node.place(), node.inWords() + " stands here", expected);
  }
}
