// How Dear ImGui is built here (IMGUI_USER_CONFIG): without what a phone app never shows, and with 32-bit
// indices, since a long list of icons and outlines can pass the 65,536 corners that 16 bits can count.
#pragma once

#define IMGUI_DISABLE_OBSOLETE_FUNCTIONS
#define IMGUI_DISABLE_DEMO_WINDOWS
#define IMGUI_DISABLE_DEBUG_TOOLS
#define IMGUI_DISABLE_FILE_FUNCTIONS
#define ImDrawIdx unsigned int
