// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaAnnotation;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import com.tngtech.archunit.core.domain.JavaCodeUnitAccess;
import com.tngtech.archunit.core.domain.JavaConstructor;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaMethod;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.domain.ReferencedClassObject;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The methods and constructors that a program comes to from where it starts, by the calls in the
 * class files. A call comes to what the called type has or inherits, and to what each type below it
 * has that is used anywhere; methods are told apart by name and number of parameters, so that it
 * errs towards too much. What a foreign library calls by itself counts as called: what overrides a
 * foreign method, what carries an annotation, and fields that a library fills.
 */
final class CallWalk {
  private record Call(String name, int parameters) {}

  private final Deque<JavaCodeUnit> waiting = new ArrayDeque<>();
  private final Set<JavaCodeUnit> code = new HashSet<>();
  private final Set<JavaClass> used = new HashSet<>();
  private final Map<JavaClass, Set<Call>> calls = new HashMap<>();
  private final Map<JavaClass, Set<JavaClass>> usedBelow = new HashMap<>();
  private final JavaClasses classes;
  private final String house;

  CallWalk(JavaClasses classes, String house) {
    this.classes = classes;
    this.house = house;
  }

  /** Goes on from what others may ask of a type: each of its methods that is not private. */
  void askedOf(JavaClass type) {
    type.getMethods().stream()
        .filter(m -> !m.getModifiers().contains(JavaModifier.PRIVATE))
        .forEach(m -> called(type, asked(m)));
    from(type.getConstructors().stream());
  }

  /** Goes on from more places where something starts. */
  void from(Stream<? extends JavaCodeUnit> starts) {
    starts.forEach(waiting::add);
    while (!waiting.isEmpty()) {
      JavaCodeUnit unit = waiting.poll();
      if (code.add(unit)) {
        use(unit.getOwner());
        unit.getAccessesFromSelf().forEach(this::follow);
        unit.getReferencedClassObjects().stream()
            .map(ReferencedClassObject::getRawType)
            .forEach(this::use);
      }
    }
  }

  private void follow(JavaAccess<?> access) {
    use(access.getTargetOwner());
    if (access instanceof JavaCodeUnitAccess<?> call) {
      if (call.getTarget().getName().equals(JavaConstructor.CONSTRUCTOR_NAME)) {
        call.getTarget().resolveMember().ifPresent(waiting::add);
      } else {
        called(
            call.getTargetOwner(),
            new Call(call.getTarget().getName(), call.getTarget().getRawParameterTypes().size()));
      }
    }
  }

  private void called(JavaClass on, Call call) {
    if (calls.computeIfAbsent(on, c -> new HashSet<>()).add(call)) {
      answer(on, call);
      usedBelow.getOrDefault(on, Set.of()).forEach(below -> answer(below, call));
    }
  }

  /** What runs where a call is made on a type: its own method of that name, or what it inherits. */
  private void answer(JavaClass type, Call call) {
    lineage(type)
        .filter(this::isOurs)
        .flatMap(c -> c.getMethods().stream())
        .filter(m -> m.getName().equals(call.name))
        .filter(m -> m.getRawParameterTypes().size() == call.parameters)
        .forEach(waiting::add);
  }

  private static Stream<JavaClass> lineage(JavaClass type) {
    Set<JavaClass> above = new LinkedHashSet<>();
    above.add(type);
    above.addAll(type.getAllRawSuperclasses());
    above.addAll(type.getAllRawInterfaces());
    return above.stream();
  }

  private boolean isOurs(JavaClass type) {
    return type.getName().startsWith(house + ".");
  }

  private void use(JavaClass any) {
    JavaClass type = any.getBaseComponentType();
    if (!isOurs(type) || !used.add(type)) {
      return;
    }
    type.getStaticInitializer().ifPresent(waiting::add);
    lineage(type)
        .forEach(
            above -> {
              usedBelow.computeIfAbsent(above, c -> new HashSet<>()).add(type);
              List.copyOf(calls.getOrDefault(above, Set.of())).forEach(call -> answer(type, call));
              if (!isOurs(above)) {
                above.getMethods().forEach(m -> answer(type, asked(m)));
              }
            });
    annotated(type);
  }

  private static Call asked(JavaMethod method) {
    return new Call(method.getName(), method.getRawParameterTypes().size());
  }

  private void annotated(JavaClass type) {
    type.getMethods().stream().filter(m -> isFilled(m.getAnnotations())).forEach(waiting::add);
    for (JavaField field : type.getFields()) {
      if (isFilled(field.getAnnotations())) {
        made(field.getRawType());
      }
    }
    Stream.concat(
            type.getAnnotations().stream(),
            type.getFields().stream().flatMap(f -> f.getAnnotations().stream()))
        .flatMap(a -> a.getProperties().values().stream())
        .flatMap(v -> v instanceof Object[] all ? Stream.of(all) : Stream.of(v))
        .filter(JavaClass.class::isInstance)
        .forEach(c -> made((JavaClass) c));
  }

  private void made(JavaClass type) {
    if (isOurs(type)) {
      use(type);
      type.getConstructors().stream()
          .filter(c -> c.getRawParameterTypes().isEmpty())
          .forEach(waiting::add);
    }
  }

  private static boolean isFilled(Set<? extends JavaAnnotation<?>> annotations) {
    return annotations.stream().anyMatch(a -> a.getRawType().getName().startsWith("picocli."));
  }

  /** What is never come to, each by its name, or the class alone where nothing in it is. */
  Set<String> unreached() {
    return classes.stream()
        .filter(this::isOurs)
        .flatMap(c -> c.getCodeUnits().stream())
        .filter(u -> !code.contains(u) && !isOfItself(u))
        .map(CallWalk::name)
        .collect(Collectors.toCollection(TreeSet::new));
  }

  private static String name(JavaCodeUnit unit) {
    return unit.getOwner().getName()
        + "."
        + unit.getName()
        + unit.getRawParameterTypes().stream()
            .map(JavaClass::getSimpleName)
            .collect(Collectors.joining(",", "(", ")"));
  }

  /** What a compiler writes, what records and enums bring along, and what only forbids making. */
  private static boolean isOfItself(JavaCodeUnit unit) {
    JavaClass owner = unit.getOwner();
    boolean empty = unit.getRawParameterTypes().isEmpty();
    boolean accessor =
        owner.isRecord()
            && empty
            && owner.getFields().stream().anyMatch(f -> f.getName().equals(unit.getName()));
    boolean closed =
        unit instanceof JavaConstructor
            && empty
            && unit.getModifiers().contains(JavaModifier.PRIVATE);
    boolean ofRecord =
        owner.isRecord() && Set.of("equals", "hashCode", "toString").contains(unit.getName());
    boolean ofEnum = owner.isEnum() && Set.of("values", "valueOf").contains(unit.getName());
    return accessor
        || ofRecord
        || closed
        || ofEnum
        || unit.getName().equals("<clinit>")
        || unit.getModifiers().contains(JavaModifier.SYNTHETIC);
  }
}
