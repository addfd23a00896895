package millrace.document;

import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import millrace.fault.Faults;

/** A form that is named in the schema and may refer to itself. */
record DefinedForm<T>(String name, Supplier<Form<T>> form) implements Form<T> {

  @Override
  public String inWords() {
    return form.get().inWords();
  }

  @Override
  public Optional<T> read(Node node, Faults faults) {
    return form.get().read(node, faults);
  }

  @Override
  public Map<String, Object> schema(Map<String, Object> defs) {
    if (!defs.containsKey(name)) {
      defs.put(name, true);
      defs.put(name, form.get().schema(defs));
    }
    return Map.of("$ref", "#/$defs/" + name);
  }
}
