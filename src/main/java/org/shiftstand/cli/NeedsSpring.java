package org.shiftstand.cli;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/** A command whose parts Spring assembles; all others are made by their constructors and start faster. */
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.TYPE)
@interface NeedsSpring {}
