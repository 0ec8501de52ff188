package org.shiftstand.cli;

import java.lang.reflect.Constructor;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.boot.Banner;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import picocli.CommandLine;

/**
 * Makes commands. Those that need Spring get a supplier of their bench: picocli makes every command for its model, so only
 * the first use of the bench may start the context, and starts it once.
 */
final class LazyContext implements CommandLine.IFactory, AutoCloseable {
    private @Nullable ConfigurableApplicationContext context;

    @Override
    public <K> K create(Class<K> type) throws Exception {
        if (type.isAnnotationPresent(NeedsSpring.class)) {
            Supplier<Bench> bench = () -> context().getBean(Bench.class);
            return type.getDeclaredConstructor(Supplier.class).newInstance(bench);
        }
        if (type.isInterface()) {
            return CommandLine.defaultFactory().create(type);
        }
        // picocli's own factory looks for Groovy first and so opens every jar of the class path; Main does without it
        // too
        Constructor<K> constructor = type.getDeclaredConstructor();
        constructor.setAccessible(true);
        return constructor.newInstance();
    }

    private synchronized ConfigurableApplicationContext context() {
        ConfigurableApplicationContext started = context;
        if (started == null) {
            started = new SpringApplicationBuilder(BenchConfiguration.class)
                    .profiles("cli")
                    .web(WebApplicationType.NONE)
                    .bannerMode(Banner.Mode.OFF)
                    .logStartupInfo(false)
                    .lazyInitialization(true)
                    // the safe stop has its own hook; the context must not close under a running rig
                    .registerShutdownHook(false)
                    .run();
            context = started;
        }
        return started;
    }

    @Override
    public synchronized void close() {
        if (context != null) {
            context.close();
            context = null;
        }
    }
}
