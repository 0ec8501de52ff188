package org.shiftstand.errors;

import com.sun.source.tree.BinaryTree;
import com.sun.source.tree.ClassTree;
import com.sun.source.tree.CompilationUnitTree;
import com.sun.source.tree.ConditionalExpressionTree;
import com.sun.source.tree.ExpressionTree;
import com.sun.source.tree.IdentifierTree;
import com.sun.source.tree.LiteralTree;
import com.sun.source.tree.MemberSelectTree;
import com.sun.source.tree.MethodInvocationTree;
import com.sun.source.tree.MethodTree;
import com.sun.source.tree.NewClassTree;
import com.sun.source.tree.ParenthesizedTree;
import com.sun.source.tree.ReturnTree;
import com.sun.source.tree.Tree;
import com.sun.source.tree.VariableTree;
import com.sun.source.util.JavacTask;
import com.sun.source.util.TreeScanner;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Stream;
import javax.lang.model.element.Modifier;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;

/**
 * Finds every text in the sources that may reach a person as an error or a notice, by following texts to where they are shown.
 *
 * <p>A text is shown where it is given to {@code new Problem}, to an exception whose message is printed, or to standard error.
 * A method that hands one of its parameters on to such a place is such a place itself; so on until nothing new is found. Methods
 * are told apart by name and number of arguments, and by package where they are not public: that takes a little too much rather
 * than too little. A text is kept with {@code …} where values go.
 */
final class MessageScan {
    /** Exceptions whose message a person sees, and lists whose texts become problems further on. */
    private static final Set<String> SHOWN_EXCEPTIONS =
            Set.of("LinkException", "NotAQuantity", "NoRecord", "NotJudged", "IOException", "UncheckedIOException");

    private static final Set<String> LISTS = Set.of("problems", "missing", "findings", "wrong", "refusals", "found");
    /** Parameters that hold what is expected; sentences put "expected" before it. */
    private static final Set<String> EXPECTED = Set.of("expected", "example", "tells", "range");

    /** Texts of pages and tables; what is wrong is never told there. */
    private static final Set<String> NO_MESSAGES = Set.of("report", "export");

    private static final String HOLE = "…";
    private static final String EXPECTATION = "expected: ";

    /** A call that shows its argument of that number. */
    private record Sink(String name, int arguments, int index, String where, boolean expectation) {}

    private record Source(String file, String room, CompilationUnitTree tree, Map<String, List<MethodTree>> methods) {}

    private final List<Source> sources = new ArrayList<>();
    private final Set<Sink> sinks = new LinkedHashSet<>();

    /** By file the patterns of its texts, in their order. */
    static Map<String, Set<String>> of(Path root) throws IOException {
        MessageScan scan = new MessageScan();
        scan.parse(root);
        int before;
        do {
            before = scan.sinks.size();
            scan.sources.forEach(scan::findSinks);
        } while (scan.sinks.size() > before);
        Map<String, Set<String>> found = new TreeMap<>();
        for (Source source : scan.sources) {
            if (NO_MESSAGES.contains(source.room())) {
                continue;
            }
            Set<String> texts = scan.texts(source);
            if (!texts.isEmpty()) {
                found.put(source.file(), texts);
            }
        }
        return found;
    }

    private void parse(Path root) throws IOException {
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        List<Path> files;
        try (Stream<Path> all = Files.walk(root)) {
            files = all.filter(file -> file.toString().endsWith(".java") && !file.endsWith("package-info.java"))
                    .sorted()
                    .toList();
        }
        try (StandardJavaFileManager manager =
                compiler.getStandardFileManager(null, Locale.ROOT, StandardCharsets.UTF_8)) {
            JavacTask task = (JavacTask) compiler.getTask(
                    null, manager, null, List.of("-proc:none"), null, manager.getJavaFileObjectsFromPaths(files));
            for (CompilationUnitTree tree : task.parse()) {
                Path file = Path.of(tree.getSourceFile().toUri());
                String name = root.toAbsolutePath().normalize().relativize(file).toString();
                Map<String, List<MethodTree>> methods = new HashMap<>();
                new TreeScanner<Void, Void>() {
                    @Override
                    public Void visitMethod(MethodTree method, Void unused) {
                        methods.computeIfAbsent(method.getName().toString(), n -> new ArrayList<>())
                                .add(method);
                        return super.visitMethod(method, unused);
                    }
                }.scan(tree, null);
                sources.add(new Source(name, name.substring(0, name.lastIndexOf('/')), tree, methods));
            }
        }
    }

    /** What each method hands on. */
    private void findSinks(Source source) {
        new TreeScanner<Void, Void>() {
            private String type = "";

            @Override
            public Void visitClass(ClassTree tree, Void unused) {
                String outer = type;
                type = tree.getSimpleName().toString();
                super.visitClass(tree, unused);
                type = outer;
                return null;
            }

            @Override
            public Void visitMethod(MethodTree method, Void unused) {
                List<String> parameters = method.getParameters().stream()
                        .map(p -> p.getName().toString())
                        .toList();
                Set<String> handed = new LinkedHashSet<>();
                forShown(source, method, (shown, expectation) -> handed.addAll(names(shown)));
                String name = method.getName().contentEquals("<init>")
                        ? type
                        : method.getName().toString();
                boolean open = method.getModifiers().getFlags().contains(Modifier.PUBLIC);
                for (int i = 0; i < parameters.size(); i++) {
                    String kind = method.getParameters().get(i).getType().toString();
                    // every writer's write(String) would be one as soon as a single method of ours is called so
                    if (handed.contains(parameters.get(i)) && kind.equals("String") && !name.equals("write")) {
                        sinks.add(new Sink(
                                name,
                                parameters.size(),
                                i,
                                open ? "" : source.room(),
                                EXPECTED.contains(parameters.get(i))));
                    }
                }
                return super.visitMethod(method, unused);
            }
        }.scan(source.tree(), null);
    }

    private Set<String> texts(Source source) {
        Set<String> texts = new LinkedHashSet<>();
        new TreeScanner<Void, Void>() {
            @Override
            public Void visitMethod(MethodTree method, Void unused) {
                forShown(
                        source,
                        method,
                        (shown, expectation) -> patterns(source, method, shown, 0).stream()
                                .map(text -> text.replaceAll("\\s+", " ").strip())
                                .filter(MessageScan::isSentence)
                                .forEach(text -> texts.add(expectation ? EXPECTATION + text : text)));
                return super.visitMethod(method, unused);
            }
        }.scan(source.tree(), null);
        return texts;
    }

    /** Names of keys and options are handed on, too; a sentence has several words. */
    private static boolean isSentence(String text) {
        return text.replace(HOLE, "").strip().matches("(?s).*[a-z]{2,}.* .*[a-z]{2,}.*");
    }

    private interface Shown {
        void text(ExpressionTree argument, boolean expectation);
    }

    /** Every argument in a method that is shown. */
    private void forShown(Source source, MethodTree method, Shown shown) {
        new TreeScanner<Void, Void>() {
            @Override
            public Void visitMethodInvocation(MethodInvocationTree call, Void unused) {
                String name = last(call.getMethodSelect());
                List<? extends ExpressionTree> arguments = call.getArguments();
                if (source.room().equals("cli")
                        && name.equals("println")
                        && toError(call.getMethodSelect())
                        && arguments.size() == 1) {
                    shown.text(arguments.get(0), false);
                } else if (name.equals("add")
                        && arguments.size() == 1
                        && LISTS.contains(receiver(call.getMethodSelect()))) {
                    shown.text(arguments.get(0), false);
                }
                handed(name, arguments);
                return super.visitMethodInvocation(call, unused);
            }

            @Override
            public Void visitNewClass(NewClassTree made, Void unused) {
                String name = last(made.getIdentifier());
                List<? extends ExpressionTree> arguments = made.getArguments();
                if (name.equals("Problem") && arguments.size() == 4) {
                    shown.text(arguments.get(3), false);
                } else if (SHOWN_EXCEPTIONS.contains(name) && !arguments.isEmpty()) {
                    shown.text(arguments.get(0), false);
                }
                handed(name, arguments);
                return super.visitNewClass(made, unused);
            }

            private void handed(String name, List<? extends ExpressionTree> arguments) {
                for (Sink sink : sinks) {
                    if (sink.name().equals(name)
                            && sink.arguments() == arguments.size()
                            && (sink.where().isEmpty() || sink.where().equals(source.room()))) {
                        shown.text(arguments.get(sink.index()), sink.expectation());
                    }
                }
            }
        }.scan(method.getBody(), null);
    }

    private static boolean toError(ExpressionTree select) {
        String receiver = select instanceof MemberSelectTree member
                ? member.getExpression().toString()
                : "";
        return receiver.equals("err") || receiver.endsWith("getErr()") || receiver.endsWith(".err");
    }

    private static String receiver(ExpressionTree select) {
        return select instanceof MemberSelectTree member ? last(member.getExpression()) : "";
    }

    private static String last(Tree name) {
        if (name instanceof MemberSelectTree member) {
            return member.getIdentifier().toString();
        }
        return name instanceof IdentifierTree id ? id.getName().toString() : "";
    }

    private static Set<String> names(ExpressionTree expression) {
        Set<String> names = new LinkedHashSet<>();
        new TreeScanner<Void, Void>() {
            @Override
            public Void visitIdentifier(IdentifierTree id, Void unused) {
                names.add(id.getName().toString());
                return null;
            }

            @Override
            public Void visitConditionalExpression(ConditionalExpressionTree either, Void unused) {
                scan(either.getTrueExpression(), null); // what decides is not shown
                scan(either.getFalseExpression(), null);
                return null;
            }
        }.scan(expression, null);
        return names;
    }

    /** Every text that an expression may be. */
    private Set<String> patterns(Source source, MethodTree method, ExpressionTree e, int depth) {
        if (depth > 6) {
            return Set.of(HOLE);
        }
        if (e instanceof LiteralTree literal) {
            return Set.of(
                    literal.getValue() instanceof String text ? text.strip().isEmpty() ? " " : text : HOLE);
        }
        if (e instanceof ParenthesizedTree inner) {
            return patterns(source, method, inner.getExpression(), depth);
        }
        if (e instanceof ConditionalExpressionTree either) {
            Set<String> both = new LinkedHashSet<>(patterns(source, method, either.getTrueExpression(), depth));
            both.addAll(patterns(source, method, either.getFalseExpression(), depth));
            return both;
        }
        if (e instanceof BinaryTree plus && plus.getKind() == Tree.Kind.PLUS) {
            return joined(
                    patterns(source, method, plus.getLeftOperand(), depth),
                    patterns(source, method, plus.getRightOperand(), depth));
        }
        if (e instanceof MethodInvocationTree call) {
            return called(source, method, call, depth);
        }
        if (e instanceof IdentifierTree id) {
            return named(source, method, id.getName().toString(), depth);
        }
        return Set.of(HOLE);
    }

    private static Set<String> joined(Set<String> left, Set<String> right) {
        Set<String> joined = new LinkedHashSet<>();
        for (String a : left) {
            for (String b : right) {
                joined.add((a + b).replace(HOLE + HOLE, HOLE));
            }
        }
        return joined.size() > 16 ? Set.of(joined.iterator().next()) : joined;
    }

    private Set<String> called(Source source, MethodTree method, MethodInvocationTree call, int depth) {
        String name = last(call.getMethodSelect());
        if (name.equals("format") && !call.getArguments().isEmpty()) {
            int at = call.getArguments().get(0).toString().equals("Locale.ROOT") ? 1 : 0;
            return holed(patterns(source, method, call.getArguments().get(at), depth + 1));
        }
        if (name.equals("formatted") && call.getMethodSelect() instanceof MemberSelectTree member) {
            return holed(patterns(source, method, member.getExpression(), depth + 1));
        }
        if ((name.equals("of") || name.equals("ofLines"))
                && receiver(call.getMethodSelect()).equals("PlainText")) {
            return patterns(source, method, call.getArguments().get(0), depth);
        }
        if (name.equals("valueOf") && call.getArguments().size() == 1) {
            return patterns(source, method, call.getArguments().get(0), depth + 1);
        }
        Set<String> returned = new LinkedHashSet<>();
        if (!(call.getMethodSelect() instanceof MemberSelectTree)) {
            for (MethodTree one : source.methods().getOrDefault(name, List.of())) {
                if (one != method
                        && one.getBody() != null
                        && one.getReturnType() != null
                        && one.getReturnType().toString().equals("String")) {
                    new TreeScanner<Void, Void>() {
                        @Override
                        public Void visitReturn(ReturnTree back, Void unused) {
                            returned.addAll(patterns(source, one, back.getExpression(), depth + 1));
                            return null;
                        }
                    }.scan(one.getBody(), null);
                }
            }
        }
        return returned.isEmpty() ? Set.of(HOLE) : returned;
    }

    private static Set<String> holed(Set<String> formats) {
        Set<String> holed = new LinkedHashSet<>();
        formats.forEach(format -> holed.add(format.replace("%n", "\n")
                .replaceAll("%[-0-9.,$]*[a-zA-Z]", HOLE)
                .replace("%%", "%")));
        return holed;
    }

    /** A constant of the class, or a variable of the method. */
    private Set<String> named(Source source, MethodTree method, String name, int depth) {
        Set<String> values = new LinkedHashSet<>();
        TreeScanner<Void, Void> find = new TreeScanner<>() {
            @Override
            public Void visitVariable(VariableTree variable, Void unused) {
                if (variable.getName().contentEquals(name)
                        && variable.getInitializer() != null
                        && variable.getType() != null
                        && variable.getType().toString().equals("String")) {
                    values.addAll(patterns(source, method, variable.getInitializer(), depth + 1));
                }
                return null;
            }
        };
        find.scan(method.getBody(), null);
        if (values.isEmpty() && name.equals(name.toUpperCase(Locale.ROOT))) {
            find.scan(source.tree(), null);
        }
        return values.isEmpty() ? Set.of(HOLE) : values;
    }
}
