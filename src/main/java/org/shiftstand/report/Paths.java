package org.shiftstand.report;

import java.lang.invoke.MethodHandle;
import java.lang.invoke.MethodHandles;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.thymeleaf.context.IExpressionContext;
import org.thymeleaf.standard.expression.IStandardVariableExpression;
import org.thymeleaf.standard.expression.IStandardVariableExpressionEvaluator;
import org.thymeleaf.standard.expression.StandardExpressionExecutionContext;

/**
 * Reads {@code ${name.component.component}}: a variable, then components of records. An {@code Optional} opens by itself;
 * an empty text or list counts as none, so that {@code th:if} leaves its place out. Text comes out clean: see
 * {@link Words#clean}.
 *
 * <p>All that the template needs. The general expression language would cost a third of a second at each start, and
 * would let a template call code.
 */
final class Paths implements IStandardVariableExpressionEvaluator {
    private static final MethodHandles.Lookup LOOKUP = MethodHandles.lookup();

    private final Map<String, MethodHandle> accessors = new HashMap<>();

    @Override
    public @Nullable Object evaluate(
            IExpressionContext context,
            IStandardVariableExpression expression,
            StandardExpressionExecutionContext execution) {
        String[] path = expression.getExpression().trim().split("\\.", -1);
        Object value = context.getVariable(path[0]);
        for (int i = 1; i < path.length && value != null; i++) {
            value = opened(component(value, path[i]));
        }
        return value instanceof String text ? Words.clean(text) : value;
    }

    private static @Nullable Object opened(@Nullable Object value) {
        boolean empty = (value instanceof String text && text.isEmpty())
                || (value instanceof Collection<?> all && all.isEmpty());
        return empty ? null : value instanceof Optional<?> optional ? optional.orElse(null) : value;
    }

    private @Nullable Object component(Object owner, String name) {
        try {
            MethodHandle accessor = accessors.get(owner.getClass().getName() + '.' + name);
            if (accessor == null) {
                accessor = LOOKUP.unreflect(owner.getClass().getDeclaredMethod(name));
                accessors.put(owner.getClass().getName() + '.' + name, accessor);
            }
            return accessor.invoke(owner);
        } catch (Throwable e) { // what a method handle declares
            throw new IllegalStateException(
                    "the report's template asks for what is not there: type="
                            + owner.getClass().getName() + ", name=" + name,
                    e);
        }
    }
}
