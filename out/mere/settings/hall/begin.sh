#!/bin/sh
# Made by thumbwright for Mere: run by harrow-hall before a game.
export HARROW_TONGUE='en'
