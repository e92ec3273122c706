// SPDX-License-Identifier: Apache-2.0
import '@fontsource-variable/newsreader/wght.css';
import '@fontsource-variable/source-sans-3/wght.css';
import './styles/base.css';
import './styles/controls.css';
import { mount } from 'svelte';
import App from './App.svelte';

const target = document.getElementById('app');
if (target) mount(App, { target });
