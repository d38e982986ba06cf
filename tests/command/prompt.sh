#!/bin/sh
exec lua5.4 tests/command/prompt.lua
