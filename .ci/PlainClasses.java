// SPDX-License-Identifier: Apache-2.0
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.objectweb.asm.ClassReader;
import org.objectweb.asm.ClassWriter;
import org.objectweb.asm.Handle;
import org.objectweb.asm.Label;
import org.objectweb.asm.MethodVisitor;
import org.objectweb.asm.Opcodes;
import org.objectweb.asm.Type;
import org.objectweb.asm.tree.AbstractInsnNode;
import org.objectweb.asm.tree.ClassNode;
import org.objectweb.asm.tree.FieldInsnNode;
import org.objectweb.asm.tree.InvokeDynamicInsnNode;
import org.objectweb.asm.tree.MethodInsnNode;
import org.objectweb.asm.tree.MethodNode;

/**
 * Writes compiled classes anew for the jar: {@code java -cp ASM .ci/PlainClasses.java CLASSES OUT}.
 * Functions become classes of their own, and records compare and hash their components in code of
 * their own. A virtual machine would make both when they are first met, at each start anew, which
 * took more than a quarter of a short analysis (The Java Virtual Machine Specification, 6.5,
 * invokedynamic); an archive of classes keeps only what lies in the jar. What the code does stays
 * the same: hash codes are those of {@code java.lang.runtime.ObjectMethods}.
 */
final class PlainClasses implements Opcodes {
  private static final String OBJECT = "java/lang/Object";
  private static final String INITIALIZER = "<init>";
  private static final String ONLY = "ONLY";
  private static final String HASH = "hashCode";

  private final Map<String, ClassNode> classes = new LinkedHashMap<>();
  private final List<ClassNode> functions = new ArrayList<>();

  private PlainClasses() {}

  public static void main(String[] args) throws IOException {
    Path from = Path.of(args[0]);
    Path to = Path.of(args[1]);
    emptied(to);
    PlainClasses all = new PlainClasses();
    try (Stream<Path> files = Files.walk(from)) {
      for (Path each : files.filter(Files::isRegularFile).sorted().toList()) {
        all.take(each, to.resolve(from.relativize(each).toString()));
      }
    }
    List.copyOf(all.classes.values()).forEach(all::change);
    all.functions.forEach(each -> all.classes.put(each.name, each));
    for (ClassNode each : all.classes.values()) {
      ClassWriter out = new ClassWriter(ClassWriter.COMPUTE_MAXS);
      each.accept(out);
      Path file = to.resolve(each.name + ".class");
      Files.createDirectories(file.getParent());
      Files.write(file, out.toByteArray());
    }
  }

  private static void emptied(Path folder) throws IOException {
    if (Files.exists(folder)) {
      try (Stream<Path> old = Files.walk(folder)) {
        for (Path each : old.sorted(Comparator.reverseOrder()).toList()) {
          Files.delete(each);
        }
      }
    }
  }

  private void take(Path file, Path copy) throws IOException {
    if (file.toString().endsWith(".class")) {
      ClassNode node = new ClassNode();
      new ClassReader(Files.readAllBytes(file)).accept(node, 0);
      classes.put(node.name, node);
    } else {
      Files.createDirectories(copy.getParent());
      Files.copy(file, copy);
    }
  }

  private void change(ClassNode node) {
    for (MethodNode method : List.copyOf(node.methods)) {
      for (AbstractInsnNode each : method.instructions.toArray()) {
        if (each instanceof InvokeDynamicInsnNode call) {
          String maker = call.bsm.getOwner() + "." + call.bsm.getName();
          if (maker.equals("java/lang/invoke/LambdaMetafactory.metafactory")) {
            Function function = new Function(node, call, functions.size());
            functions.add(function.made(host(node)));
            method.instructions.set(each, function.use());
          } else if (maker.equals("java/lang/runtime/ObjectMethods.bootstrap") && !call.name.equals("toString")) {
            method.instructions.set(each, ofRecord(node, call));
          }
        }
      }
    }
  }

  /** Classes of one nest see the private members of each other. */
  private ClassNode host(ClassNode member) {
    return member.nestHostClass == null ? member : classes.get(member.nestHostClass);
  }

  private static MethodInsnNode ofRecord(ClassNode node, InvokeDynamicInsnNode call) {
    List<Handle> components = new ArrayList<>();
    for (int i = 2; i < call.bsmArgs.length; i++) {
      components.add((Handle) call.bsmArgs[i]);
    }
    String name = call.name + "$plain";
    MethodVisitor code =
        node.visitMethod(ACC_PRIVATE | ACC_STATIC | ACC_SYNTHETIC, name, call.desc, null, null);
    code.visitCode();
    if (call.name.equals(HASH)) {
      hash(code, node.name, components);
    } else {
      equality(code, node.name, components);
    }
    code.visitMaxs(0, 0);
    code.visitEnd();
    return new MethodInsnNode(INVOKESTATIC, node.name, name, call.desc, false);
  }

  private static void hash(MethodVisitor code, String owner, List<Handle> components) {
    code.visitInsn(ICONST_0);
    for (Handle each : components) {
      Type type = Type.getType(each.getDesc());
      code.visitIntInsn(BIPUSH, 31);
      code.visitInsn(IMUL);
      code.visitVarInsn(ALOAD, 0);
      code.visitFieldInsn(GETFIELD, owner, each.getName(), each.getDesc());
      if (Kind.isPrimitive(type)) {
        code.visitMethodInsn(INVOKESTATIC, Kind.box(type), HASH, "(" + type + ")I", false);
      } else {
        code.visitMethodInsn(INVOKESTATIC, "java/util/Objects", HASH, "(Ljava/lang/Object;)I", false);
      }
      code.visitInsn(IADD);
    }
    code.visitInsn(IRETURN);
  }

  private static void equality(MethodVisitor code, String owner, List<Handle> components) {
    Label another = new Label();
    Label different = new Label();
    code.visitVarInsn(ALOAD, 0);
    code.visitVarInsn(ALOAD, 1);
    code.visitJumpInsn(IF_ACMPNE, another);
    code.visitInsn(ICONST_1);
    code.visitInsn(IRETURN);
    code.visitLabel(another);
    code.visitFrame(F_SAME, 0, null, 0, null);
    code.visitVarInsn(ALOAD, 1);
    code.visitTypeInsn(INSTANCEOF, owner);
    code.visitJumpInsn(IFEQ, different);
    for (Handle each : components) {
      Type type = Type.getType(each.getDesc());
      code.visitVarInsn(ALOAD, 0);
      code.visitFieldInsn(GETFIELD, owner, each.getName(), each.getDesc());
      code.visitVarInsn(ALOAD, 1);
      code.visitTypeInsn(CHECKCAST, owner);
      code.visitFieldInsn(GETFIELD, owner, each.getName(), each.getDesc());
      if (Kind.isPrimitive(type)) {
        code.visitMethodInsn(INVOKESTATIC, Kind.box(type), "compare", "(" + type + type + ")I", false);
        code.visitJumpInsn(IFNE, different);
      } else {
        code.visitMethodInsn(
            INVOKESTATIC, "java/util/Objects", "equals", "(Ljava/lang/Object;Ljava/lang/Object;)Z", false);
        code.visitJumpInsn(IFEQ, different);
      }
    }
    code.visitInsn(ICONST_1);
    code.visitInsn(IRETURN);
    code.visitLabel(different);
    code.visitFrame(F_SAME, 0, null, 0, null);
    code.visitInsn(ICONST_0);
    code.visitInsn(IRETURN);
  }

  /** A class in place of a function: what it holds are its fields, what it does is one method. */
  private static final class Function {
    private final ClassNode user;
    private final InvokeDynamicInsnNode call;
    private final String name;
    private final String face;
    private final Type[] held;

    Function(ClassNode user, InvokeDynamicInsnNode call, int number) {
      this.user = user;
      this.call = call;
      this.name = user.name + "$$F" + number;
      this.face = Type.getReturnType(call.desc).getInternalName();
      this.held = Type.getArgumentTypes(call.desc);
    }

    /** Where one is wanted. One that holds nothing is there once. */
    AbstractInsnNode use() {
      return held.length == 0
          ? new FieldInsnNode(GETSTATIC, name, ONLY, "L" + face + ";")
          : new MethodInsnNode(INVOKESTATIC, name, "of", call.desc, false);
    }

    ClassNode made(ClassNode host) {
      ClassNode node = new ClassNode();
      node.visit(
          user.version, ACC_FINAL | ACC_SUPER | ACC_SYNTHETIC, name, null, OBJECT, new String[] {face});
      node.nestHostClass = host.name;
      if (host.nestMembers == null) {
        host.nestMembers = new ArrayList<>();
      }
      host.nestMembers.add(name);
      for (int i = 0; i < held.length; i++) {
        node.visitField(ACC_PRIVATE | ACC_FINAL, "held" + i, held[i].getDescriptor(), null, null);
      }
      constructor(node);
      if (held.length == 0) {
        node.visitField(ACC_STATIC | ACC_FINAL, ONLY, "L" + face + ";", null, null);
        MethodVisitor code = node.visitMethod(ACC_STATIC, "<clinit>", "()V", null, null);
        object(code);
        code.visitFieldInsn(PUTSTATIC, name, ONLY, "L" + face + ";");
        end(code, RETURN);
      } else {
        MethodVisitor code = node.visitMethod(ACC_STATIC, "of", call.desc, null, null);
        object(code);
        end(code, ARETURN);
      }
      body(node);
      return node;
    }

    private String constructorTakes() {
      return Type.getMethodDescriptor(Type.VOID_TYPE, held);
    }

    private void constructor(ClassNode node) {
      MethodVisitor code = node.visitMethod(ACC_PRIVATE, INITIALIZER, constructorTakes(), null, null);
      code.visitCode();
      code.visitVarInsn(ALOAD, 0);
      code.visitMethodInsn(INVOKESPECIAL, OBJECT, INITIALIZER, "()V", false);
      int slot = 1;
      for (int i = 0; i < held.length; i++) {
        code.visitVarInsn(ALOAD, 0);
        code.visitVarInsn(held[i].getOpcode(ILOAD), slot);
        code.visitFieldInsn(PUTFIELD, name, "held" + i, held[i].getDescriptor());
        slot += held[i].getSize();
      }
      end(code, RETURN);
    }

    private void object(MethodVisitor code) {
      code.visitCode();
      code.visitTypeInsn(NEW, name);
      code.visitInsn(DUP);
      int slot = 0;
      for (Type each : held) {
        code.visitVarInsn(each.getOpcode(ILOAD), slot);
        slot += each.getSize();
      }
      code.visitMethodInsn(INVOKESPECIAL, name, INITIALIZER, constructorTakes(), false);
    }

    private static void end(MethodVisitor code, int with) {
      code.visitInsn(with);
      code.visitMaxs(0, 0);
      code.visitEnd();
    }

    /** Hands on what it holds and what it is given (java.lang.invoke.LambdaMetafactory). */
    private void body(ClassNode node) {
      Type erased = (Type) call.bsmArgs[0];
      Handle does = (Handle) call.bsmArgs[1];
      Type meant = (Type) call.bsmArgs[2];
      MethodVisitor code = node.visitMethod(ACC_PUBLIC, call.name, erased.getDescriptor(), null, null);
      code.visitCode();
      boolean creates = does.getTag() == H_NEWINVOKESPECIAL;
      if (creates) {
        code.visitTypeInsn(NEW, does.getOwner());
        code.visitInsn(DUP);
      }
      List<Type> wanted = new ArrayList<>();
      if (!creates && does.getTag() != H_INVOKESTATIC) {
        wanted.add(Type.getObjectType(does.getOwner()));
      }
      wanted.addAll(List.of(Type.getArgumentTypes(does.getDesc())));
      for (int i = 0; i < held.length; i++) {
        code.visitVarInsn(ALOAD, 0);
        code.visitFieldInsn(GETFIELD, name, "held" + i, held[i].getDescriptor());
        Kind.convert(code, held[i], held[i], wanted.get(i));
      }
      int slot = 1;
      for (int i = 0; i < erased.getArgumentTypes().length; i++) {
        Type given = erased.getArgumentTypes()[i];
        code.visitVarInsn(given.getOpcode(ILOAD), slot);
        slot += given.getSize();
        Kind.convert(code, given, meant.getArgumentTypes()[i], wanted.get(held.length + i));
      }
      Type got = invoked(code, does);
      Type answer = erased.getReturnType();
      if (answer != Type.VOID_TYPE) {
        Type said = meant.getReturnType();
        Kind.convert(code, got, Kind.isPrimitive(said) ? got : said, answer);
      } else if (got.getSize() > 0) {
        code.visitInsn(got.getSize() == 1 ? POP : POP2);
      }
      end(code, answer.getOpcode(IRETURN));
    }

    private static Type invoked(MethodVisitor code, Handle does) {
      int how =
          switch (does.getTag()) {
            case H_INVOKESTATIC -> INVOKESTATIC;
            case H_NEWINVOKESPECIAL -> INVOKESPECIAL;
            default -> does.isInterface() ? INVOKEINTERFACE : INVOKEVIRTUAL;
          };
      code.visitMethodInsn(how, does.getOwner(), does.getName(), does.getDesc(), does.isInterface());
      return does.getTag() == H_NEWINVOKESPECIAL
          ? Type.getObjectType(does.getOwner())
          : Type.getReturnType(does.getDesc());
    }
  }

  /** Kinds of values, and how one becomes another (The Java Language Specification, 5.1). */
  private static final class Kind {
    private static final Map<Type, String> BOXES =
        Map.of(
            Type.BOOLEAN_TYPE, "java/lang/Boolean",
            Type.CHAR_TYPE, "java/lang/Character",
            Type.BYTE_TYPE, "java/lang/Byte",
            Type.SHORT_TYPE, "java/lang/Short",
            Type.INT_TYPE, "java/lang/Integer",
            Type.FLOAT_TYPE, "java/lang/Float",
            Type.LONG_TYPE, "java/lang/Long",
            Type.DOUBLE_TYPE, "java/lang/Double");

    private Kind() {}

    static boolean isPrimitive(Type type) {
      return type.getSort() < Type.ARRAY;
    }

    static String box(Type primitive) {
      return BOXES.get(primitive);
    }

    /** What lies on the stack as one type, and is of a second one, becomes a third. */
    static void convert(MethodVisitor code, Type from, Type is, Type to) {
      if (isPrimitive(from) && isPrimitive(to)) {
        widen(code, from, to);
      } else if (isPrimitive(from)) {
        String box = box(from);
        code.visitMethodInsn(INVOKESTATIC, box, "valueOf", "(" + from + ")L" + box + ";", false);
      } else if (isPrimitive(to)) {
        Type inside =
            BOXES.entrySet().stream()
                .filter(each -> each.getValue().equals(is.getInternalName()))
                .map(Map.Entry::getKey)
                .findFirst()
                .orElse(to);
        String value = inside.getClassName() + "Value";
        code.visitTypeInsn(CHECKCAST, box(inside));
        code.visitMethodInsn(INVOKEVIRTUAL, box(inside), value, "()" + inside, false);
        widen(code, inside, to);
      } else {
        cast(code, from, is);
        cast(code, is, to);
      }
    }

    private static void cast(MethodVisitor code, Type from, Type to) {
      if (!from.equals(to) && !to.getInternalName().equals(OBJECT)) {
        code.visitTypeInsn(CHECKCAST, to.getInternalName());
      }
    }

    private static void widen(MethodVisitor code, Type from, Type to) {
      int target = Math.max(Type.INT, to.getSort());
      int source = Math.max(Type.INT, from.getSort());
      if (source == target) {
        return;
      }
      String path = source + ">" + target;
      code.visitInsn(
          switch (path) {
            case Type.INT + ">" + Type.LONG -> I2L;
            case Type.INT + ">" + Type.FLOAT -> I2F;
            case Type.INT + ">" + Type.DOUBLE -> I2D;
            case Type.LONG + ">" + Type.FLOAT -> L2F;
            case Type.LONG + ">" + Type.DOUBLE -> L2D;
            case Type.FLOAT + ">" + Type.DOUBLE -> F2D;
            default -> throw new IllegalStateException("no conversion from " + from + " to " + to);
          });
    }
  }
}
