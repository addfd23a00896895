// SPDX-License-Identifier: Apache-2.0
package millrace.document.form;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.document.FileMessageText;
import millrace.document.yaml.Node;
import millrace.fault.InputFault;
import millrace.fault.InputFaultList;

/** A map with its kind given by the presence of one of some keys. */
record YamlVariantByKeyForm<T>(String inWords, Map<String, YamlForm<? extends T>> variants)
    implements YamlForm<T> {

  YamlVariantByKeyForm {
    variants = new LinkedHashMap<>(variants);
  }

  @Override
  public Optional<T> read(Node node, InputFaultList faults) {
    if (!(node instanceof Node.Entries entries)) {
      YamlNodeShapes.wrong(node, expected(), faults);
      return Optional.empty();
    }
    List<String> telling =
        YamlNodeShapes.keys(entries).stream().filter(variants::containsKey).toList();
    if (telling.isEmpty()) {
      faults.add(none(entries));
      return Optional.empty();
    }
    YamlForm<? extends T> form = variants.get(telling.get(0));
    return form == null ? Optional.empty() : form.read(node, faults).map(v -> v);
  }

  private InputFault none(Node.Entries entries) {
    List<String> keys = YamlNodeShapes.keys(entries);
    String hint =
        keys.stream()
            .map(k -> FileMessageText.didYouMean(k, variants.keySet()))
            .filter(h -> !h.isEmpty())
            .findFirst()
            .orElse("");
    return new InputFault(
        entries.place(), entries.inWords() + " says nothing of what it is", expected(), hint);
  }

  private String expected() {
    return inWords + ": one with the key " + FileMessageText.oneOf(variants.keySet());
  }

  @Override
  public T sample() {
    return variants.values().iterator().next().sample();
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    List<Map<String, Object>> all = variants.values().stream().map(f -> f.schema(defs)).toList();
    return Map.of("anyOf", all);
  }
}
