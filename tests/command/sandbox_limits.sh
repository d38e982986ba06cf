#!/bin/sh
exec lua5.4 tests/command/sandbox_limits.lua
