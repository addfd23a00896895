// SPDX-License-Identifier: Apache-2.0
package millrace.architecture;

import com.tngtech.archunit.core.domain.JavaAccess;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaCodeUnit;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaFieldAccess;
import com.tngtech.archunit.core.domain.JavaMethod;
import java.util.ArrayDeque;
import java.util.Collection;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * The code that a command comes to, by the calls in the class files. A call of a method is taken to
 * come to every method of that name in the types above and below, so that it errs towards too much.
 * What a record does with itself (constructor, equality, text) is no reading of it.
 */
final class Reached {
  private static final Set<String> OF_ITSELF = Set.of("equals", "hashCode", "toString", "<init>");
  private static final Set<String> ENTRIES = Set.of("main", "call", "run");

  private final JavaClasses classes;
  private final Map<String, List<JavaMethod>> byName;
  private final Deque<JavaCodeUnit> waiting = new ArrayDeque<>();
  private final Set<JavaCodeUnit> code = new HashSet<>();
  private final Set<JavaClass> used = new HashSet<>();
  private final Map<JavaField, Set<String>> readers = new HashMap<>();

  private Reached(JavaClasses classes) {
    this.classes = classes;
    this.byName =
        classes.stream()
            .flatMap(c -> c.getMethods().stream())
            .collect(Collectors.groupingBy(JavaMethod::getName));
  }

  /** Everything that the commands of a package come to. */
  static Reached from(JavaClasses classes, String commands) {
    Reached reached = new Reached(classes);
    classes.stream()
        .filter(c -> c.getPackageName().startsWith(commands))
        .flatMap(c -> c.getMethods().stream())
        .filter(m -> ENTRIES.contains(m.getName()))
        .forEach(reached.waiting::add);
    while (!reached.waiting.isEmpty()) {
      reached.visit(reached.waiting.poll());
    }
    return reached;
  }

  JavaClasses classes() {
    return classes;
  }

  private void visit(JavaCodeUnit unit) {
    if (code.add(unit)) {
      use(unit.getOwner());
      unit.getAccessesFromSelf().forEach(access -> follow(unit, access));
    }
  }

  private void follow(JavaCodeUnit from, JavaAccess<?> access) {
    if (access instanceof JavaFieldAccess field) {
      field.getTarget().resolveMember().ifPresent(f -> read(from, f));
    } else if (access.getTarget().getName().equals("<init>")) {
      waiting.addAll(access.getTargetOwner().getConstructors());
    } else {
      called(access.getTargetOwner(), access.getTarget().getName());
    }
  }

  private void read(JavaCodeUnit from, JavaField field) {
    boolean own = from.getOwner().equals(field.getOwner());
    if (!own || !OF_ITSELF.contains(from.getName()) && !from.getName().equals(field.getName())) {
      readers.computeIfAbsent(field, f -> new HashSet<>()).add(from.getFullName());
    }
    use(field.getOwner());
  }

  private void called(JavaClass on, String name) {
    byName.getOrDefault(name, List.of()).stream()
        .filter(
            m ->
                m.getOwner().isAssignableTo(on.getName())
                    || on.isAssignableTo(m.getOwner().getName()))
        .forEach(waiting::add);
  }

  /** Static values, and what implements a foreign interface, are come to from outside. */
  private void use(JavaClass type) {
    if (used.add(type)) {
      type.getStaticInitializer().ifPresent(waiting::add);
      Set<String> foreign =
          Stream.of(type.getAllRawSuperclasses(), type.getAllRawInterfaces())
              .flatMap(Collection::stream)
              .filter(c -> !c.getPackageName().startsWith("millrace"))
              .flatMap(c -> c.getMethods().stream())
              .map(JavaMethod::getName)
              .filter(name -> !OF_ITSELF.contains(name))
              .collect(Collectors.toSet());
      type.getMethods().stream().filter(m -> foreign.contains(m.getName())).forEach(waiting::add);
    }
  }

  /** Whether code that is come to reads a component, by its method or where it stands. */
  boolean reads(JavaField component) {
    return readers.containsKey(component) || asked(component);
  }

  private boolean asked(JavaField component) {
    return component.getOwner().getMethods().stream()
        .filter(m -> m.getName().equals(component.getName()))
        .filter(m -> m.getRawParameterTypes().isEmpty())
        .anyMatch(m -> askedItself(m, component) || overrides(m) && code.contains(m));
  }

  private boolean askedItself(JavaMethod accessor, JavaField component) {
    return accessor.getAccessesToSelf().stream()
        .map(JavaAccess::getOrigin)
        .filter(code::contains)
        .anyMatch(
            from ->
                !from.getOwner().equals(component.getOwner())
                    || !OF_ITSELF.contains(from.getName()));
  }

  private static boolean overrides(JavaMethod method) {
    return method.getOwner().getAllRawInterfaces().stream()
        .flatMap(i -> i.getMethods().stream())
        .anyMatch(m -> m.getName().equals(method.getName()));
  }
}
