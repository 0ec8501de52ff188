package org.shiftstand.cli;

import org.jspecify.annotations.Nullable;
import org.springframework.boot.Banner;
import org.springframework.boot.WebApplicationType;
import org.springframework.boot.builder.SpringApplicationBuilder;
import org.springframework.context.ConfigurableApplicationContext;
import picocli.CommandLine;

/** Makes commands: with Spring where they ask for it, which starts the context once and only then. */
final class LazyContext implements CommandLine.IFactory, AutoCloseable {
    private @Nullable ConfigurableApplicationContext context;

    @Override
    public <K> K create(Class<K> type) throws Exception {
        if (type.isAnnotationPresent(NeedsSpring.class)) {
            return context().getBeanFactory().createBean(type);
        }
        return CommandLine.defaultFactory().create(type);
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
